" The language server relist for ALE, in HEX files.
runtime ale_linters/pic/relist.vim

call ale#linter#Define('relisthex', {
\   'name': 'relist',
\   'lsp': 'stdio',
\   'executable': {buffer -> ale#Var(buffer, 'pic_relist_executable')},
\   'command': '%e serve --stdio',
\   'language': 'relist-hex',
\   'project_root': function('ale_linters#pic#relist#Root'),
\   'lsp_config': {buffer -> {'relist': ale#Var(buffer, 'pic_relist_settings')}},
\})
