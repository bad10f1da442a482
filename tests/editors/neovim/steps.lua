-- Drives one Neovim through the whole job on the demo document; writes 'ok' and 'not ok' lines to $RESULTS.
local results = assert(io.open(os.getenv('RESULTS'), 'w'))
local name = os.getenv('EDITOR_NAME')
local file = os.getenv('WORKSPACE') .. '/crossing.asm'

local function say(text)
  results:write(text .. '\n')
  results:flush()
end

local function await(what, check, ms)
  local value
  if not vim.wait(ms or 15000, function()
    value = check()
    return value
  end, 10) then
    error('no sign of: ' .. what, 2)
  end
  return value
end

local function read(path)
  local stream = io.open(path, 'rb')
  local content = stream and stream:read('*a')
  if stream then stream:close() end
  return content
end

local buffer
local function lines() return vim.api.nvim_buf_get_lines(buffer, 0, -1, false) end
local function line_with(pattern)
  for number, text in ipairs(lines()) do
    if text:find(pattern) then return number, text end
  end
end
local function put_cursor(pattern, word)
  local number, text = line_with(pattern)
  assert(number, 'no line with ' .. pattern)
  local at = text:find(word, 1, true)
  assert(at, 'no ' .. word .. ' in: ' .. text)
  vim.api.nvim_win_set_cursor(0, { number, at - 1 })
  return number
end
local function problems(lnum) return vim.diagnostic.get(buffer, lnum and { lnum = lnum - 1 } or nil) end
local function has(lnum, code)
  for _, problem in ipairs(problems(lnum)) do
    local found = problem.code or (problem.user_data and problem.user_data.lsp and problem.user_data.lsp.code)
    if found == code then return problem end
  end
end

local steps = {
  { 'a pasted listing is known as one and the server starts', function()
    vim.cmd('edit ' .. vim.fn.fnameescape(file))
    buffer = vim.api.nvim_get_current_buf()
    assert(vim.bo.filetype == 'pic', 'file type is ' .. vim.bo.filetype)
  end },
  { 'the problems of the paste are shown', function()
    await('problems', function() return #problems() > 20 end)
    local number = line_with('^goto start')
    await('the operation in column 1', function() return has(number, 'operation-not-indented') end)
    assert(vim.fn.maparg('K', 'n') ~= '', 'no key for the hover')
  end },
  { 'one fix through the menu of code actions moves an operation out of column 1', function()
    local number = put_cursor('^goto start', 'goto')
    local titles = {}
    vim.ui.select = function(items, _, choose)
      for _, item in ipairs(items) do titles[#titles + 1] = (item.action or item[2]).title end
      choose(items[1], 1)
    end
    vim.lsp.buf.code_action()
    await('the edit', function() return vim.fn.getline(number):find('^%s+goto%s+start$') end)
    await('the problem gone', function() return not has(number, 'operation-not-indented') end)
  end },
  { 'source.fixAll makes every certain fix', function()
    vim.cmd('RelistFixAll')
    await('no operation in column 1', function()
      for _, problem in ipairs(problems()) do
        if problem.message:find('cannot start in column 1', 1, true) then return false end
      end
      return not line_with('^retfie') and line_with('^%s+retfie')
    end)
  end },
  { 'no error is left when a person has given the rests of comments their semicolon', function()
    -- The paste broke long comments; which words are a comment's is for a person to say.
    local rests = {}
    for text in io.lines(os.getenv('RESTS')) do rests[text] = true end
    for number, text in ipairs(lines()) do
      if rests[(vim.trim(text):gsub('%s+', ' '))] then vim.fn.setline(number, '; ' .. text) end
    end
    await('no error', function() return #vim.diagnostic.get(buffer, { severity = vim.diagnostic.severity.ERROR }) == 0 end)
  end },
  { 'the hover of the configuration line shows the word', function()
    put_cursor('__CONFIG', '_WDT_OFF')
    vim.lsp.buf.hover()
    local window = await('the floating window', function()
      for _, window in ipairs(vim.api.nvim_list_wins()) do
        if vim.api.nvim_win_get_config(window).relative ~= '' then return window end
      end
    end)
    local text = table.concat(vim.api.nvim_buf_get_lines(vim.api.nvim_win_get_buf(window), 0, -1, false), '\n')
    vim.api.nvim_win_close(window, true)
    -- 0x3FF1: worked out in docs/demo/crossing-words.md from the data sheet's table of the configuration word.
    assert(text:find('0x3FF1', 1, true), 'the hover says: ' .. text)
  end },
  { 'formatting puts a shifted line back into its columns', function()
    local function format()
      if vim.lsp.buf.format then
        vim.lsp.buf.format({ async = false, timeout_ms = 5000 })
      else
        vim.lsp.buf.formatting_sync(nil, 5000)
      end
    end
    format()
    local number, right = line_with('^start%s+clrf%s+PORTA')
    assert(number, 'the line is not there')
    local shifted = right:gsub('^start%s+clrf%s+', 'start clrf     ')
    assert(shifted ~= right, 'the line was not shifted')
    vim.api.nvim_buf_set_lines(buffer, number - 1, number, false, { shifted })
    format()
    assert(vim.fn.getline(number) == right, 'the line is: ' .. vim.fn.getline(number))
  end },
  { 'a rename changes the definition and every use', function()
    put_cursor('^idle1', 'idle1')
    vim.lsp.buf.rename('quietly')
    await('the label', function() return line_with('^quietly%s+call%s+look') end)
    await('the use', function() return line_with('goto%s+quietly$') end)
    assert(not line_with('idle1'), 'the old name is still there')
  end },
  { 'a definition is gone to', function()
    put_cursor('call%s+recall', 'recall')
    vim.lsp.buf.definition()
    await('the cursor at the label', function() return vim.fn.getline('.'):find('^recall') end)
  end },
  { 'RelistBuild says that the HEX is written', function()
    local reported
    vim.notify = function(text) reported = text end
    vim.cmd('RelistBuild')
    assert(reported and reported:find('chip.hex is written', 1, true), 'it says: ' .. tostring(reported))
    os.remove(os.getenv('WORKSPACE') .. '/chip.hex')
  end },
  { 'saving writes the HEX', function()
    -- The build command above has saved the buffer; a change is needed for a save.
    vim.api.nvim_buf_set_lines(buffer, -1, -1, false, { '; saved' })
    vim.cmd('silent write')
    await('the HEX', function() return read(os.getenv('WORKSPACE') .. '/chip.hex') == read(os.getenv('EXPECTED_HEX')) end)
  end },
  { 'RelistRecover makes the source of the leaflet, lists what was changed, and its HEX is that of the demo', function()
    local reported
    vim.notify = function(text) reported = text end
    vim.cmd('RelistRecover ' .. os.getenv('WORKSPACE') .. '/kit.pdf')
    buffer = vim.api.nvim_get_current_buf()
    assert(vim.api.nvim_buf_get_name(buffer):find('/kit%.asm$'), 'the buffer is ' .. vim.api.nvim_buf_get_name(buffer))
    assert(line_with('^start +clrf +PORTA'), 'the program is not there')
    local list = vim.fn.getqflist()
    assert(#list > 20 and reported:find('^relist: ' .. #list .. ' lines'), ('%d entries; it says: %s'):format(#list, tostring(reported)))
    for _, entry in ipairs(list) do assert(entry.type == 'I', 'in doubt: ' .. entry.text) end
    os.remove(os.getenv('WORKSPACE') .. '/chip.hex')
    await('the server', function() return #vim.tbl_keys(vim.lsp.buf_get_clients(buffer)) > 0 end)
    vim.cmd('silent write')
    await('the HEX of the leaflet', function() return read(os.getenv('WORKSPACE') .. '/chip.hex') == read(os.getenv('EXPECTED_HEX')) end)
  end },
  { 'RelistRecover marks the two places that were guessed, and they are shown as problems', function()
    vim.cmd('RelistRecover ' .. os.getenv('WORKSPACE') .. '/porch.txt')
    buffer = vim.api.nvim_get_current_buf()
    local number = assert(line_with(';%? was m0vwf$'))
    assert(lines()[number]:find('^ +movwf +TRISB'), 'the line is ' .. lines()[number])
    assert(line_with('bsf +PORTB,0 ;%? was O: '), 'the second place is not marked')
    local doubts = 0
    for _, entry in ipairs(vim.fn.getqflist()) do doubts = doubts + (entry.type == 'W' and 1 or 0) end
    assert(doubts == 2, doubts .. ' doubts are listed')
    await('the problem', function() return has(number, 'open-doubt') end)
  end },
  { 'RelistRecover does not write over a file', function()
    local reported
    vim.notify = function(text) reported = text end
    local before = read(os.getenv('WORKSPACE') .. '/porch.asm')
    vim.cmd('RelistRecover ' .. os.getenv('WORKSPACE') .. '/porch.txt')
    assert(reported and reported:find('is there already', 1, true), 'it says: ' .. tostring(reported))
    assert(read(os.getenv('WORKSPACE') .. '/porch.asm') == before, 'the file was changed')
  end },
  { 'a listing pasted into a new buffer is known when it is written, and source.fixAll puts it right', function()
    vim.cmd('edit ' .. vim.fn.fnameescape(os.getenv('WORKSPACE') .. '/fresh.asm'))
    buffer = vim.api.nvim_get_current_buf()
    vim.fn.setreg('"', read(os.getenv('PASTE')))
    vim.cmd('normal! P')
    vim.cmd('silent write')
    assert(vim.bo.filetype == 'pic', 'file type is ' .. vim.bo.filetype)
    await('problems', function() return #problems() > 20 end)
    vim.cmd('RelistFixAll')
    await('no operation in column 1', function() return not line_with('^retfie') and line_with('^%s+retfie') end)
  end },
}

for _, step in ipairs(steps) do
  local good, why = xpcall(step[2], debug.traceback)
  say((good and 'ok ' or 'not ok ') .. name .. ': ' .. step[1])
  if not good then
    say('# ' .. tostring(why))
    say('# ' .. table.concat(lines(), '\n# '))
    for _, problem in ipairs(problems()) do say(('# %d: %s'):format(problem.lnum + 1, problem.message)) end
    break
  end
end
results:close()
vim.cmd('qa!')
