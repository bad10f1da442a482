if vim.g.loaded_relist then return end
vim.g.loaded_relist = true
if vim.fn.has('nvim-0.7') == 0 then
  vim.api.nvim_err_writeln('relist needs Neovim 0.7 or later.')
  return
end
require('relist').setup()
