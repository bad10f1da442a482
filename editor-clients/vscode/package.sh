#!/usr/bin/env bash
# Packs the extension as out/vscode/relist-PLATFORM.vsix, with the server inside.
#
#   package.sh                        for this machine; builds the native server where it is not in out/ yet
#   package.sh win32-x64 linux-arm64  for others, whose servers src/publish.sh has put into out/
#   package.sh --without-server       one .vsix for every machine; `relist` has to be on the PATH there
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")"
repository=$(cd ../.. && pwd)

# VS Code's name of a platform -> the folder in out/.
folder_of() {
  case $1 in
    win32-*) echo "win-${1#win32-}" ;;
    darwin-*) echo "osx-${1#darwin-}" ;;
    *) echo "$1" ;;
  esac
}

this_machine() {
  case $(uname -m) in x86_64) architecture=x64 ;; aarch64 | arm64) architecture=arm64 ;; *) architecture=$(uname -m) ;; esac
  case $(uname -s) in Darwin) echo "darwin-$architecture" ;; *) echo "linux-$architecture" ;; esac
}

[ -d node_modules/vscode-languageclient ] || npm install --no-package-lock --no-audit --no-fund --silent
npm run --silent check
npm run --silent bundle -- --log-level=warning
cp "$repository/LICENSE" LICENSE
mkdir -p "$repository/out/vscode"
trap 'rm -rf server LICENSE' EXIT

[ $# -gt 0 ] || set -- "$(this_machine)"
for platform in "$@"; do
  rm -rf server
  target=()
  if [ "$platform" != --without-server ]; then
    built=$repository/out/$(folder_of "$platform")
    [ "$platform" != "$(this_machine)" ] || [ -d "$built" ] || sh "$repository/src/publish.sh"
    [ -d "$built" ] || { echo "There is no server for $platform: run src/publish.sh $(folder_of "$platform") first." >&2; exit 1; }
    mkdir server
    cp "$built"/relist* server/
    target=(--target "$platform")
  else
    platform=any
  fi
  npx --no-install vsce package "${target[@]}" --no-dependencies --allow-missing-repository --out "$repository/out/vscode/relist-$platform.vsix" >"$repository/out/vscode/pack.log" 2>&1 || { cat "$repository/out/vscode/pack.log" >&2; exit 1; }
  echo "out/vscode/relist-$platform.vsix"
done
