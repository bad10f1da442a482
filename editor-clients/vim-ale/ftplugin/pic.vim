" Commands and comment form for mid-range PIC assembly.
if exists('b:did_relist')
  finish
endif
let b:did_relist = 1
setlocal commentstring=;\ %s comments=:;

function! s:Run(arguments) abort
  update
  echo system(shellescape(get(g:, 'ale_pic_relist_executable', 'relist')) . ' ' . a:arguments . ' ' . shellescape(expand('%:p')))
  " The file may have been changed on the disk.
  checktime
endfunction

command! -buffer RelistBuild call s:Run('build')
command! -buffer RelistTidy setlocal autoread | call s:Run('tidy')
command! -buffer RelistCard call s:Run('card -o ' . shellescape(expand('%:p:r') . '-card.html'))
