-- Neovim starts the language server by this, one for all designs of a repository, or else
-- of a folder; Vim passes it over.
if vim.fn.executable("foredge") == 0 then return end
local folder = vim.fn.expand("%:p:h")
local git = vim.fn.finddir(".git", vim.fn.escape(folder, ", \\") .. ";")
local root = git ~= "" and vim.fn.fnamemodify(git, ":p:h:h") or folder
local config = { name = "foredge", cmd = { "foredge", "serve" }, root_dir = root }
if vim.lsp.start then
  vim.lsp.start(config)
  return
end
-- Before 0.8 it doesn't find by itself one that runs already.
local id
for _, client in pairs(vim.lsp.get_active_clients()) do
  if client.name == config.name and client.config.root_dir == config.root_dir then id = client.id end
end
id = id or vim.lsp.start_client(config)
if id then vim.lsp.buf_attach_client(0, id) end
