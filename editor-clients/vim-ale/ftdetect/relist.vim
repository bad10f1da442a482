" Gives the file type 'pic' to assembly that is plainly for a mid-range chip; all other assembly stays what it was.
let s:typical = '\c\v^\s*(list\s.*<p\s*\=\s*"?(pic|p)?1[0246]\a|processor\s+"?(pic|p)?1[0246]\a|#?include\s*["<]?p1[0246]\a|__config\s)'
let s:others = '\c\v^\s*(list\s.*<p\s*\=\s*"?(pic|p)?1[78]\a|processor\s+"?(pic|p)?1[78]\a|#?include\s*["<]?p1[78]\a)'
let s:operation = '\c\v^[^;]*<(movlw|movwf|movf|bcf|bsf|btfs[cs]|decfsz|incfsz|retlw|retfie|clrwdt|clrf|andlw|xorlw|banksel)>'

function! s:IsSource() abort
  let l:lines = getline(1, 500)
  for l:line in l:lines[:4]
    let l:said = matchstr(l:line, 'asmsyntax=\zs\w\+')
    if l:said !=# ''
      return l:said ==# 'pic'
    endif
  endfor
  if match(l:lines, s:others) >= 0
    return 0
  endif
  return match(l:lines, s:typical) >= 0 || match(l:lines, s:operation, 0, 3) >= 0
endfunction

function! s:Look() abort
  if &filetype !=# 'pic' && s:IsSource()
    set filetype=pic
  endif
endfunction

" On writing too: a new buffer into which a listing was pasted is known then.
autocmd BufNewFile,BufRead,BufWritePost *.asm,*.inc,*.src,*.ASM,*.INC,*.SRC call s:Look()
" A HEX file starts with a record.
autocmd BufNewFile,BufRead *.hex,*.HEX if getline(1) =~? '^\s*:\x\{8}' | set filetype=relisthex | endif
