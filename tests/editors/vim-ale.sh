#!/usr/bin/env bash
# Vim with ALE and editor-clients/vim-ale does the job on the pasted demo document, in a terminal of its own.
. "$(dirname "${BASH_SOURCE[0]}")/common/lib.sh"
[ -d /usr/share/vim-ale ] && vim --version | grep -q '+channel' || need no-such-command vim-nox vim-ale
need script bsdutils
cat >"$work/vimrc" <<END
set nocompatible nomore noswapfile nobackup viminfo=
set runtimepath^=$clients/vim-ale
let g:ale_pic_relist_settings = {'output': 'chip.hex'}
let g:ale_lint_delay = 50
let g:ale_hover_to_preview = 1
let g:ale_echo_cursor = 0
filetype plugin on
packadd! ale
let g:work = '$work'
let g:rests = '$rests'
let g:expected_hex = '$expected_hex'
source $here/vim/steps.vim
END
HOME=$work/home TERM=xterm within "$asked_seconds" script -qec "vim -u '$work/vimrc' '$work/ws/crossing.asm'" /dev/null >"$work/terminal" 2>&1 </dev/null || not_ok "vim, ALE ended by itself"
[ -e "$work/notes" ] && cp "$work/notes" "$work/vim.log"
repeat_results "$work/results" "vim, ALE"
