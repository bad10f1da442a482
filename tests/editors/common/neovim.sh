# What the two Neovim scripts share: run_neovim NAME COMMAND...
run_neovim() {
  export EDITOR_NAME=$1 RESULTS=$work/results WORKSPACE=$work/ws RESTS=$rests PASTE=$paste EXPECTED_HEX=$expected_hex
  shift
  cat >"$work/init.vim" <<END
set noswapfile nobackup shada= runtimepath^=$clients/neovim runtimepath+=${parsers:-}
let g:relist_settings = {'output': 'chip.hex'}
filetype plugin on
END
  HOME=$work/home XDG_STATE_HOME=$work/home XDG_CONFIG_HOME=$work/home within "$asked_seconds" \
    "$@" --headless -u "$work/init.vim" -i NONE -n -S "$here/neovim/steps.lua" >"$work/neovim.log" 2>&1 || not_ok "$EDITOR_NAME ended by itself"
  [ -e "$RESULTS" ] && grep '^#' "$RESULTS" >>"$work/neovim.log"
  repeat_results "$RESULTS" "$EDITOR_NAME"
  same_hex "$EDITOR_NAME"
}
