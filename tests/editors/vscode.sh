#!/usr/bin/env bash
# VS Code (as code-server, in Chromium) with the packed extension does the job on the pasted demo document. The heaviest of these scripts.
# SCREENSHOTS=FOLDER also keeps pictures. VSIX=FILE takes this extension, packed with its server inside, and no other `relist` is to be found then.
. "$(dirname "${BASH_SOURCE[0]}")/common/lib.sh"
cache=${RELIST_EDITOR_CACHE:-/tmp/relist-editors}/vscode
need chromium chromium
install() {
  mkdir -p "$cache"/{node,server,browser}
  local quiet=(--no-audit --no-fund --silent --no-package-lock)
  (cd "$cache/node" && npm init -y && npm install "${quiet[@]}" node@24) &&
    (cd "$cache/browser" && npm init -y && npm install "${quiet[@]}" --ignore-scripts playwright-core@1) &&
    (cd "$cache/server" && npm init -y && npm install "${quiet[@]}" --ignore-scripts code-server@4.139.1 &&
      cd node_modules/code-server/lib/vscode && npm install --omit=dev --ignore-scripts "${quiet[@]}") &&
    touch "$cache/complete"
}
[ -e "$cache/complete" ] || install >"$work/install.log" 2>&1 || { not_ok "vscode: install"; exit; }
PATH=$cache/node/node_modules/node/bin:$PATH
if [ -n "${VSIX-}" ]; then
  vsix=$(realpath "$VSIX")
  rm "$work/bin/relist"
else
  bash "$clients/vscode/package.sh" --without-server >"$work/package.log" 2>&1 || { not_ok "vscode: the extension packs"; exit; }
  ok "vscode: the extension is type-checked, bundled and packed"
  vsix=$repository/out/vscode/relist-any.vsix
fi

data=$work/data
mkdir -p "$data/User" "$data/Machine"
cat >"$data/User/settings.json" <<END
{ "files.autoSave": "off", "workbench.startupEditor": "none", "security.workspace.trust.enabled": false, "telemetry.telemetryLevel": "off",
  "update.mode": "none", "extensions.autoUpdate": false, "extensions.autoCheckUpdates": false, "workbench.enableExperiments": false,
  "chat.disableAIFeatures": true, "workbench.secondarySideBar.defaultVisibility": "hidden", "editor.accessibilitySupport": "off",
  "relist.output": "chip.hex" }
END
# The program is the machine's matter, so its setting counts there only.
[ -n "${VSIX-}" ] || printf '{ "relist.command": "%s" }\n' "$work/bin/relist" >"$data/Machine/settings.json"
: >"$work/ws/fresh.asm"
# Held back until the colors of the text have been seen without a server.
export SERVER_WAITS_FOR=$work/colors-seen
code_server=(env HOME="$work/home" node "$cache/server/node_modules/code-server/out/node/entry.js"
  --user-data-dir "$data" --extensions-dir "$data/extensions" --config "$data/config.yaml")
"${code_server[@]}" --install-extension "$vsix" >"$work/install.log" 2>&1 || { not_ok "vscode: the extension installs"; exit; }
ok "vscode: the extension installs"

"${code_server[@]}" --auth none --bind-addr 127.0.0.1:0 --disable-telemetry --disable-update-check --disable-workspace-trust \
  --disable-getting-started-override "$work/ws" >"$work/code-server.log" 2>&1 &
server=$!
clean_up() {
  kill "$server" 2>/dev/null
  wait "$server" 2>/dev/null
}
address() { grep -oE 'http://127\.0\.0\.1:[0-9]+' "$work/code-server.log" | head -n 1; }
listens() { [ -n "$(address)" ]; }
await 30 listens || { not_ok "vscode: code-server starts"; exit; }
export PASTE=$paste EXPECTED_HEX=$expected_hex
within "$((asked_seconds * 4))" node "$here/vscode/steps.mjs" "$cache/browser" "$(address)" "$work/ws" "$rests" >"$work/results" 2>"$work/steps.log" || bad=1
repeat_results "$work/results" vscode
[ "$bad" -eq 0 ] || find "$data" -path '*exthost*' -name '*relist*.log' -exec cat {} + >"$work/channel.log" 2>/dev/null
