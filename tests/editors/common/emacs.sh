# What the two Emacs scripts share: run_emacs CLIENT COMMAND... does the job through eglot or lsp-mode.
run_emacs() {
  local client=$1
  shift
  export WORKSPACE=$work/ws CLIENTS=$clients RESTS=$rests RESULTS=$work/results PASTE=$paste EXPECTED_HEX=$expected_hex
  rm -f "$work"/ws/{chip.hex,kit.asm,porch.asm,fresh.asm} "$RESULTS"
  cp "$paste" "$work/ws/crossing.asm"
  HOME=$work/home within "$asked_seconds" "$@" -Q --batch -l "$here/emacs/common.el" -l "$here/emacs/$client.el" >"$work/emacs-$client.log" 2>&1 || bad=1
  repeat_results "$RESULTS" "emacs $client"
}
