" The language server relist for ALE.
call ale#Set('pic_relist_executable', 'relist')
call ale#Set('pic_relist_settings', {})

" The folder of the program: the nearest one upwards with relist.json, else with .git, else the file's own.
function! ale_linters#pic#relist#Root(buffer) abort
  for l:found in [ale#path#FindNearestFile(a:buffer, 'relist.json'), ale#path#FindNearestDirectory(a:buffer, '.git')]
    if !empty(l:found)
      return fnamemodify(substitute(l:found, '/$', '', ''), ':h')
    endif
  endfor
  return fnamemodify(bufname(a:buffer), ':p:h')
endfunction

call ale#linter#Define('pic', {
\   'name': 'relist',
\   'lsp': 'stdio',
\   'executable': {buffer -> ale#Var(buffer, 'pic_relist_executable')},
\   'command': '%e serve --stdio',
\   'language': 'pic',
\   'project_root': function('ale_linters#pic#relist#Root'),
\   'lsp_config': {buffer -> {'relist': ale#Var(buffer, 'pic_relist_settings')}},
\})
