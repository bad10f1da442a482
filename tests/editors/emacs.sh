#!/usr/bin/env bash
# Emacs with editor-clients/emacs does the job on the pasted demo document, once through eglot, once through lsp-mode.
. "$(dirname "${BASH_SOURCE[0]}")/common/lib.sh"
need emacs emacs-nox
dpkg -s elpa-lsp-mode elpa-eglot >/dev/null 2>&1 || need no-such-command elpa-eglot elpa-lsp-mode
export WORKSPACE=$work/ws CLIENTS=$clients RESTS=$rests RESULTS=$work/results
for client in eglot lsp-mode; do
  rm -f "$work/ws/chip.hex" "$RESULTS"
  cp "$repository/docs/demo/pasted.txt" "$work/ws/crossing.asm"
  HOME=$work/home within "$asked_seconds" emacs -Q --batch -l "$here/emacs/common.el" -l "$here/emacs/$client.el" >"$work/emacs-$client.log" 2>&1 || bad=1
  repeat_results "$RESULTS" "emacs $client"
  same_hex "emacs $client"
done
