" :RelistRecover DOCUMENT makes NAME.asm beside a PDF or a pasted text, opens it, and lists what was changed or is in doubt.
if exists('g:loaded_relist')
  finish
endif
let g:loaded_relist = 1

function! s:Recover(document, overwrite) abort
  let l:input = fnamemodify(expand(a:document), ':p')
  let l:output = fnamemodify(l:input, ':r') . (l:input =~? '\.asm$' ? '-recovered.asm' : '.asm')
  if filereadable(l:output) && !a:overwrite
    echoerr l:output . ' is there already. :RelistRecover! writes over it.'
    return
  endif
  let l:report = tempname()
  let l:said = system(join(map([get(g:, 'ale_pic_relist_executable', 'relist'), 'recover', l:input, '-o', l:output, '--report', l:report], 'shellescape(v:val)')))
  if v:shell_error > 1 || !filereadable(l:output)
    echoerr l:said
    return
  endif
  execute 'edit' fnameescape(l:output)
  let l:types = {'error': 'E', 'warning': 'W', 'note': 'I'}
  let l:items = map(json_decode(join(readfile(l:report))),
  \ '{"filename": l:output, "lnum": v:val.line, "col": v:val.column, "type": l:types[v:val.severity], "text": v:val.message}')
  call delete(l:report)
  call setqflist([], ' ', {'title': 'Recovered from ' . fnamemodify(l:input, ':t'), 'items': l:items})
  echo len(l:items) . ' lines to look at; :copen lists them.'
endfunction

command! -nargs=1 -bang -complete=file RelistRecover call s:Recover(<q-args>, <bang>0)
