# Shared by the scripts beside this folder; source it first. It makes a workspace in $work with the demo document as the editor's file, and a
# `relist` in $work/bin that records what goes in and out of the real one ($RELIST).
set -uo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
repository=$(cd "$here/../.." && pwd)
clients=$repository/editor-clients
RELIST=$(realpath "${RELIST:-$repository/src/AsmLsp/bin/Release/net10.0/relist}")
work=$(mktemp -d)
bad=0
asked_seconds=${EDITOR_TEST_SECONDS:-240}

ok() { echo "ok $*"; }
not_ok() { echo "not ok $*"; bad=1; }

# Repeats the 'ok' and 'not ok' lines of a results file, and minds the latter.
repeat_results() {
  grep -E '^(ok|not ok) ' "$1" || not_ok "$2 gave results"
  if grep -q '^not ok ' "$1"; then bad=1; fi
}

finish() {
  if [ "$bad" -ne 0 ]; then
    for log in "$work"/*.log "$work"/messages/*; do
      [ -s "$log" ] || continue
      echo "--- ${log##*/}"
      if [ "$(wc -c <"$log")" -lt 5000 ]; then cat "$log"; else head -c 2500 "$log"; echo; echo ...; tail -c 2500 "$log"; fi | tr '\r' '\n' | cut -c1-600
    done
  fi
  type clean_up >/dev/null 2>&1 && clean_up
  rm -rf "$work"
  exit "$bad"
}
trap finish EXIT

# Installs Debian packages when a command is missing and tests/run was asked to install: need COMMAND PACKAGE...
need() {
  local command=$1
  shift
  command -v "$command" >/dev/null 2>&1 && return
  [ "${RELIST_TESTS_INSTALL-no}" = yes ] || { not_ok "installed here: $* (bash tests/run --install)"; exit; }
  local apt=(apt-get)
  [ "$(id -u)" -eq 0 ] || apt=(sudo apt-get)
  { "${apt[@]}" update -qq && DEBIAN_FRONTEND=noninteractive "${apt[@]}" install -y -qq --no-install-recommends "$@"; } >"$work/apt.log" 2>&1 || { not_ok "install $*"; exit; }
}

# Runs a command under the deadline of a whole script: within SECONDS COMMAND...
within() {
  local seconds=$1
  shift
  timeout --kill-after=5 "$seconds" "$@"
}

# Waits until a command succeeds, four times as long as a quiet machine needs: await SECONDS COMMAND...
await() {
  local end=$((SECONDS + 4 * $1))
  shift
  until "$@"; do
    [ "$SECONDS" -lt "$end" ] || return 1
    read -rt 0.05 <> <(:) || true
  done
}

mkdir -p "$work/bin" "$work/messages" "$work/ws/.git" "$work/home"
cat >"$work/bin/relist" <<END
#!/usr/bin/env bash
if [ "\${1-}" = serve ]; then
  # A script may hold the server back until it has made this file.
  until [ -z "\${SERVER_WAITS_FOR-}" ] || [ -e "\${SERVER_WAITS_FOR-}" ]; do sleep 0.1; done
  tee -a "$work/messages/to-server" | "$RELIST" "\$@" 2>>"$work/messages/server-errors" | tee -a "$work/messages/from-server"
else
  exec "$RELIST" "\$@"
fi
END
chmod +x "$work/bin/relist"
export PATH="$work/bin:$PATH"
paste=$repository/docs/demo/pasted.txt
cp "$paste" "$work/ws/crossing.asm"
# What the commands for recovering are given: the leaflet, and a listing with two places that can only be guessed.
cp "$repository/docs/demo/crossing-kit.pdf" "$work/ws/kit.pdf"
cp "$here/common/doubtful.txt" "$work/ws/porch.txt"
# What the HEX that is written on save has to be, byte for byte. The editors' settings put it into chip.hex: that shows that settings arrive.
expected_hex=$repository/docs/demo/crossing.hex

# The lines of the paste that are rests of comments: a person puts a semicolon before them.
rests=$here/common/rest-of-comments.txt

same_hex() {
  if cmp "$work/ws/chip.hex" "$expected_hex" >"$work/compare.log" 2>&1; then ok "$1: the HEX written on save is docs/demo/crossing.hex, byte for byte"; else not_ok "$1: the HEX written on save is docs/demo/crossing.hex, byte for byte"; fi
}
