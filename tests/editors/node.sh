#!/usr/bin/env bash
# The protocol library that VS Code's clients are made of talks to the server: once as a client that can everything, once as one that declares nothing.
. "$(dirname "${BASH_SOURCE[0]}")/common/lib.sh"
library=$repository/tests/conformance
[ -d "$library/node_modules/vscode-languageserver-protocol" ] || (cd "$library" && npm install --no-audit --no-fund --no-package-lock --silent) >"$work/npm.log" 2>&1
for kind in full bare; do
  rm -f "$work/ws/chip.hex"
  within "$asked_seconds" node "$here/node/driver.mjs" "$library" "$kind" "$work/bin/relist" "$work/ws/crossing.asm" "$rests" >"$work/results" 2>"$work/driver.log" || bad=1
  repeat_results "$work/results" "node client, $kind"
  [ "$kind" = bare ] || same_hex "node client, $kind"
  cp "$repository/docs/demo/pasted.txt" "$work/ws/crossing.asm"
done
