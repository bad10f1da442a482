-- The client of the language server `relist` for Neovim 0.7 and later.
local M = {}

local detect = require('relist.detect')

local function notify(text, level) vim.notify('relist: ' .. text, level or vim.log.levels.INFO) end

--- The command of the server as a list: g:relist_command (a text or a list), else `relist` from the PATH.
local function command()
  local given = vim.g.relist_command or 'relist'
  return type(given) == 'table' and vim.deepcopy(given) or { given }
end

local function present()
  local name = command()[1]
  if vim.fn.executable(name) == 1 then return true end
  notify(('%s was not found. Put it on the PATH, or set g:relist_command to where it is.'):format(name), vim.log.levels.ERROR)
  return false
end

--- The folder of the program: the nearest one upwards with relist.json, else with .git, else the file's own.
function M.root(file)
  local folder = vim.fn.fnamemodify(file, ':p:h')
  local up = vim.fn.escape(folder, ' ,;') .. ';'
  local found = vim.fn.findfile('relist.json', up)
  if found == '' then found = vim.fn.finddir('.git', up) end
  if found == '' then found = vim.fn.findfile('.git', up) end
  if found == '' then return folder end
  return (vim.fn.fnamemodify(found, ':p'):gsub('/+$', ''):gsub('/[^/]*$', ''))
end

local function client_of(buffer)
  local all = vim.lsp.get_clients and vim.lsp.get_clients({ bufnr = buffer }) or vim.lsp.buf_get_clients(buffer)
  for _, client in pairs(all) do
    if client.name == 'relist' then return client end
  end
end

local function keys(buffer)
  if vim.g.relist_keys == 0 or vim.g.relist_keys == false then return end
  local function map(key, action, what)
    -- A key of the person's own stays.
    if vim.fn.maparg(key, 'n') == '' or key == 'K' then
      vim.keymap.set('n', key, action, { buffer = buffer, desc = what })
    end
  end
  map('K', function() vim.lsp.buf.hover() end, 'Explain what is under the cursor')
  map('gd', function() vim.lsp.buf.definition() end, 'Go to where the name is defined')
  map('<F2>', function() vim.lsp.buf.rename() end, 'Rename')
  map('<LocalLeader>a', function() vim.lsp.buf.code_action() end, 'Fixes for this line')
  map('<LocalLeader>x', '<Cmd>RelistFixAll<CR>', 'All certain fixes')
  map('<LocalLeader>b', '<Cmd>RelistBuild<CR>', 'Build the HEX file')
end

local running = {} -- root folder -> client id, for Neovim before 0.8

--- Starts the server for a buffer, or joins the one of the same folder.
function M.attach(buffer)
  buffer = (buffer and buffer ~= 0) and buffer or vim.api.nvim_get_current_buf()
  if vim.bo[buffer].buftype ~= '' or client_of(buffer) or not present() then return end
  local file = vim.api.nvim_buf_get_name(buffer)
  if file == '' then return end
  local cmd = command()
  vim.list_extend(cmd, { 'serve', '--stdio' })
  local settings = { relist = vim.g.relist_settings or vim.empty_dict() }
  local config = {
    name = 'relist',
    cmd = cmd,
    root_dir = M.root(file),
    settings = settings,
    -- Neovim before 0.8 does not let a server ask for settings.
    init_options = settings,
    on_attach = function(_, attached) keys(attached) end,
  }
  if vim.lsp.start then
    vim.lsp.start(config, { bufnr = buffer })
    return
  end
  local id = running[config.root_dir]
  if not (id and vim.lsp.get_client_by_id(id)) then
    config.workspace_folders = { { uri = vim.uri_from_fname(config.root_dir), name = config.root_dir } }
    id = vim.lsp.start_client(config)
    running[config.root_dir] = id
  end
  if id then vim.lsp.buf_attach_client(buffer, id) end
end

--- Gives a buffer the file type `pic` when it holds such a source; all other assembly is left as it is.
function M.look(buffer)
  if vim.bo[buffer].filetype ~= 'pic' and detect.is_source(vim.api.nvim_buf_get_lines(buffer, 0, 500, false)) then
    vim.bo[buffer].filetype = 'pic'
  end
end

local function run(arguments)
  local cmd = command()
  vim.list_extend(cmd, arguments)
  local lines = vim.fn.systemlist(cmd)
  return vim.v.shell_error, lines
end

--- Asks the server of a buffer and waits for the answer; nil, and a message, where it fails.
local function ask(client, buffer, method, params)
  local answer, failed
  if vim.fn.has('nvim-0.11') == 1 then
    answer, failed = client:request_sync(method, params, 10000, buffer)
  else
    answer, failed = client.request_sync(method, params, 10000, buffer)
  end
  local why = failed or (answer and answer.err and answer.err.message)
  if why then
    notify(why, vim.log.levels.ERROR)
    return nil
  end
  return answer and answer.result
end

local function client_here()
  local buffer = vim.api.nvim_get_current_buf()
  local client = client_of(buffer)
  if not client then notify('the server does not run for this file.', vim.log.levels.ERROR) end
  return client, buffer
end

--- Saves the buffer and builds the HEX file of its program. The server says what was written, or what is in the way.
function M.build()
  local client, buffer = client_here()
  if not client then return end
  vim.cmd('silent update')
  local hex = ask(client, buffer, 'workspace/executeCommand', { command = 'relist.build', arguments = { vim.uri_from_bufnr(buffer) } })
  if type(hex) == 'string' then notify(hex .. ' is written.') end
end

--- Shows the bench card of the buffer's program, or its HEX file, in the browser.
function M.card()
  local client, buffer = client_here()
  if not client then return end
  local page = ask(client, buffer, 'workspace/executeCommand', { command = 'relist.showCard', arguments = { vim.uri_from_bufnr(buffer) } })
  if type(page) == 'string' then notify('the card is ' .. vim.uri_to_fname(page)) end
end

--- Recovers a document into NAME.asm beside it, opens that, and lists what was changed or is in doubt.
function M.recover(document, overwrite)
  if not present() then return end
  local input = vim.fn.fnamemodify(vim.fn.expand(document), ':p')
  local output = vim.fn.fnamemodify(input, ':r') .. '.asm'
  if output == input then output = vim.fn.fnamemodify(input, ':r') .. '-recovered.asm' end
  if vim.fn.filereadable(output) == 1 and not overwrite then
    notify(output .. ' is there already. :RelistRecover! writes over it.', vim.log.levels.ERROR)
    return
  end
  local report = vim.fn.tempname()
  local status, lines = run({ 'recover', input, '-o', output, '--report', report })
  if status > 1 or vim.fn.filereadable(output) == 0 then
    notify(table.concat(lines, '\n'), vim.log.levels.ERROR)
    return
  end
  vim.cmd('edit ' .. vim.fn.fnameescape(output))
  local types = { error = 'E', warning = 'W', note = 'I' }
  local items = {}
  for _, entry in ipairs(vim.fn.json_decode(vim.fn.readfile(report))) do
    items[#items + 1] = { filename = output, lnum = entry.line, col = entry.column, type = types[entry.severity], text = entry.message }
  end
  vim.fn.delete(report)
  vim.fn.setqflist({}, ' ', { title = 'Recovered from ' .. vim.fn.fnamemodify(input, ':t'), items = items })
  notify(('%d lines to look at; :copen lists them.'):format(#items))
end

--- Makes every certain fix in the buffer at once.
function M.fix_all()
  local client, buffer = client_here()
  if not client then return end
  local last = vim.api.nvim_buf_line_count(buffer)
  local actions = ask(client, buffer, 'textDocument/codeAction', {
    textDocument = { uri = vim.uri_from_bufnr(buffer) },
    range = { start = { line = 0, character = 0 }, ['end'] = { line = last, character = 0 } },
    context = { diagnostics = {}, only = { 'source.fixAll' } },
  })
  local action = actions and actions[1]
  if action and not action.edit then action = ask(client, buffer, 'codeAction/resolve', action) end
  if action and action.edit then
    vim.lsp.util.apply_workspace_edit(action.edit, client.offset_encoding)
  elseif actions then
    notify('nothing to fix.')
  end
end

function M.setup()
  local group = vim.api.nvim_create_augroup('relist', {})
  -- On writing too: a new buffer into which a listing was pasted is known then.
  vim.api.nvim_create_autocmd({ 'BufRead', 'BufNewFile', 'BufWritePost' }, {
    group = group,
    pattern = { '*.asm', '*.inc', '*.src', '*.ASM', '*.INC', '*.SRC' },
    callback = function(event) M.look(event.buf) end,
  })
  vim.api.nvim_create_autocmd({ 'BufRead', 'BufNewFile' }, {
    group = group,
    pattern = { '*.hex', '*.HEX' },
    callback = function(event)
      local lines = vim.api.nvim_buf_get_lines(event.buf, 0, 1, false)
      if detect.is_hex(lines) then vim.bo[event.buf].filetype = 'relist-hex' end
    end,
  })
  vim.api.nvim_create_autocmd('FileType', {
    group = group,
    pattern = { 'pic', 'relist-hex' },
    callback = function(event)
      if vim.bo[event.buf].filetype == 'pic' then vim.bo[event.buf].commentstring = '; %s' end
      M.attach(event.buf)
    end,
  })
  vim.api.nvim_create_user_command('RelistBuild', function() M.build() end, { desc = 'Build the HEX file of this source' })
  vim.api.nvim_create_user_command('RelistCard', function() M.card() end, { desc = 'Show the bench card' })
  vim.api.nvim_create_user_command('RelistRecover', function(given) M.recover(given.args, given.bang) end,
    { nargs = 1, bang = true, complete = 'file', desc = 'Recover a printed document into source' })
  vim.api.nvim_create_user_command('RelistFixAll', function() M.fix_all() end, { desc = 'Make every certain fix' })
end

return M
