" The job through ALE; 'ok' and 'not ok' lines go to the file results in g:work.
let s:name = printf('vim %d.%d, ALE', v:version / 100, v:version % 100)

function! s:Say(text) abort
  call writefile([a:text], g:work . '/results', 'a')
endfunction
function! s:Await(what, Check) abort
  let l:start = reltime()
  while !a:Check()
    if reltimefloat(reltime(l:start)) > 20
      throw 'no sign of: ' . a:what
    endif
    sleep 20m
  endwhile
endfunction
function! s:Must(condition, why) abort
  if !a:condition
    throw a:why
  endif
endfunction
function! s:PutCursor(pattern, word) abort
  let l:line = search('\C' . a:pattern, 'cw')
  call s:Must(l:line > 0, 'no line like ' . a:pattern)
  call cursor(l:line, stridx(getline(l:line), a:word) + 1)
endfunction
function! s:Problems() abort
  return ale#engine#GetLoclist(bufnr(''))
endfunction
function! s:ProblemHere() abort
  return !empty(filter(copy(s:Problems()), 'v:val.lnum == line(".") && v:val.text =~# "column 1"'))
endfunction

" ALE asks by input(): the answer is the number before the first entry that matches s:wanted, or s:answer.
runtime autoload/ale/util.vim
let s:wanted = ''
let s:answer = ''
let s:asked = ''
function! ale#util#Input(message, value, ...) abort
  let s:asked = a:message
  if s:wanted ==# ''
    return s:answer
  endif
  for l:entry in split(a:message, "\n")
    if l:entry =~# '^\d\+) .*' . s:wanted
      return matchstr(l:entry, '^\d\+')
    endif
  endfor
  return ''
endfunction

function! s:Starts() abort
  call s:Must(&filetype ==# 'pic', 'the file type is ' . &filetype)
  call s:Await('problems', {-> len(s:Problems()) > 20})
endfunction
function! s:Fix() abort
  call s:PutCursor('^goto start', 'goto')
  call s:Await('the problem', function('s:ProblemHere'))
  let s:wanted = '.'
  ALECodeAction
  call s:Await('the edit', {-> getline('.') =~# '^\s\+goto\s\+start$'})
  ALELint
  call s:Await('the problem gone', {-> !s:ProblemHere()})
endfunction
function! s:FixAll() abort
  call s:PutCursor('^retfie', 'retfie')
  let s:wanted = 'every certain'
  ALECodeAction
  call s:Await('the edit', {-> search('^retfie', 'nw') == 0 && search('^\s\+retfie', 'nw') > 0})
endfunction
function! s:Rests() abort
  let l:rests = readfile(g:rests)
  for l:number in range(1, line('$'))
    if index(l:rests, substitute(trim(getline(l:number)), '\s\+', ' ', 'g')) >= 0
      call setline(l:number, '; ' . getline(l:number))
    endif
  endfor
  ALELint
  call s:Await('no error', {-> !empty(s:Problems()) && empty(filter(copy(s:Problems()), 'v:val.type ==# "E"'))})
endfunction
function! s:Hover() abort
  call s:PutCursor('__CONFIG', '_WDT_OFF')
  ALEHover
  call s:Await('the preview window', {-> !empty(filter(range(1, winnr('$')), 'getwinvar(v:val, "&previewwindow")'))})
  wincmd P
  let l:reported = join(getline(1, '$'), "\n")
  pclose
  " Worked out in docs/demo/crossing-words.md.
  call s:Must(l:reported =~# '0x3FF1', 'it says ' . l:reported)
endfunction
function! s:Rename() abort
  call s:PutCursor('^idle1', 'idle1')
  let s:wanted = ''
  let s:answer = 'quietly'
  ALERename
  call s:Await('the new name', {-> search('^quietly', 'nw') > 0 && search('goto\s\+quietly$', 'nw') > 0 && search('idle1', 'nw') == 0})
endfunction
function! s:Definition() abort
  call s:PutCursor('call\s\+recall', 'recall')
  ALEGoToDefinition
  call s:Await('the label', {-> getline('.') =~# '^recall'})
endfunction
function! s:Save() abort
  silent write
  call s:Await('the HEX', function('s:HexIsRight'))
endfunction
function! s:HexIsRight() abort
  let l:hex = expand('%:p:h') . '/chip.hex'
  return filereadable(l:hex) && readfile(l:hex, 'b') == readfile(g:expected_hex, 'b')
endfunction
function! s:Recover() abort
  let l:folder = expand('%:p:h')
  call delete(l:folder . '/chip.hex')
  execute 'RelistRecover' l:folder . '/kit.pdf'
  call s:Must(expand('%:t') ==# 'kit.asm' && search('^start \+clrf \+PORTA', 'nw') > 0, 'the program is not there')
  call s:Must(len(getqflist()) > 20 && empty(filter(getqflist(), 'v:val.type !=# "I"')), 'the list is ' . string(getqflist()))
  silent write
  call s:Await('the HEX of the leaflet', function('s:HexIsRight'))
endfunction
function! s:RecoverDoubtful() abort
  execute 'RelistRecover' expand('%:p:h') . '/porch.txt'
  call s:Must(search(';? was m0vwf$', 'nw') > 0 && search('bsf \+PORTB,0 ;? was O: ', 'nw') > 0, 'the marks are not there')
  call s:Must(len(filter(getqflist(), 'v:val.type ==# "W"')) == 2, 'the list is ' . string(getqflist()))
  call s:Await('the doubts', {-> len(filter(copy(s:Problems()), 'v:val.text =~# "Not checked yet"')) == 2})
endfunction
function! s:RecoverAgain() abort
  let l:before = getline(1, '$')
  let l:refused = ''
  try
    execute 'RelistRecover' expand('%:p:h') . '/porch.txt'
  catch /is there already/
    let l:refused = v:exception
  endtry
  call s:Must(l:refused !=# '' && readfile(expand('%:p')) == l:before, 'it was written over')
endfunction

let s:steps = [
\ ['a pasted listing is known as one and its problems are shown', function('s:Starts')],
\ ['one fix from the menu moves an operation out of column 1', function('s:Fix')],
\ ['the fix for everything makes every certain fix', function('s:FixAll')],
\ ['no error is left when a person has given the rests of comments their semicolon', function('s:Rests')],
\ ['the hover of the configuration line shows the word', function('s:Hover')],
\ ['a rename changes the definition and every use', function('s:Rename')],
\ ['a definition is gone to', function('s:Definition')],
\ ['saving writes the HEX', function('s:Save')],
\ ['RelistRecover makes the source of the leaflet, lists what was changed, and its HEX is that of the demo', function('s:Recover')],
\ ['RelistRecover marks the two places that were guessed, and they are shown as problems', function('s:RecoverDoubtful')],
\ ['RelistRecover does not write over a file', function('s:RecoverAgain')],
\]

function! s:Run() abort
  for [l:what, l:Step] in s:steps
    try
      call l:Step()
      call s:Say('ok ' . s:name . ': ' . l:what)
    catch
      call s:Say('not ok ' . s:name . ': ' . l:what)
      call writefile([v:exception, v:throwpoint, 'asked: ' . s:asked] + getline(1, '$') + map(copy(s:Problems()), 'v:val.lnum . ": " . v:val.text'), g:work . '/notes')
      break
    endtry
  endfor
  qall!
endfunction
autocmd VimEnter * call timer_start(1, {-> s:Run()})
