-- Distinguishes a source for a mid-range chip from other assembly, by what is in it and never by its name alone.
local M = {}

-- Operations that this family of chips has and other assembly languages do not.
local operations = {}
for word in ([[movlw movwf movf bcf bsf btfsc btfss decfsz incfsz retlw retfie clrwdt andlw iorlw xorlw addlw sublw addwf subwf
  andwf iorwf xorwf clrf swapf comf banksel]]):gmatch('%S+') do
  operations[word] = true
end

-- Lua patterns, on the line in lower case, for directives that name such a chip.
local typical = {
  '^%s*list%s.*p%s*=%s*"?p?i?c?1[0246][a-z]',
  '^%s*processor%s+"?p?i?c?1[0246][a-z]',
  '^%s*#?include%s*[<"]?p1[0246][a-z]',
  '^%s*__config%s',
}
-- The same for chips of a larger core, whose operations have the same names: not ours.
local others = {
  '^%s*list%s.*p%s*=%s*"?p?i?c?1[78][a-z]',
  '^%s*processor%s+"?p?i?c?1[78][a-z]',
  '^%s*#?include%s*[<"]?p1[78][a-z]',
}

local function any(patterns, line)
  for _, pattern in ipairs(patterns) do
    if line:find(pattern) then return true end
  end
  return false
end

--- Whether these lines are such a source: a line that names a chip, or three lines with operations of the family.
--- A person's own word in the first five lines (`asmsyntax=...`) decides before everything else.
function M.is_source(lines)
  for number = 1, math.min(5, #lines) do
    local said = lines[number]:match('asmsyntax=(%w+)')
    if said then return said == 'pic' end
  end
  local hits = 0
  for _, text in ipairs(lines) do
    local line = text:lower()
    if any(others, line) then return false end
    if any(typical, line) then return true end
    for word in line:gsub(';.*', ''):gmatch('[%a_]+') do
      if operations[word] then
        hits = hits + 1
        break
      end
    end
    if hits >= 3 then return true end
  end
  return false
end

--- Whether the first line is a record of a HEX file.
function M.is_hex(lines) return lines[1] ~= nil and lines[1]:find('^%s*:%x%x%x%x%x%x%x%x') ~= nil end

return M
