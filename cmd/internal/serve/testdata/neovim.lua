-- Drives the server from Neovim's own client and writes what came of it as JSON.
-- FOREDGE is the program, DESIGN the file to open, OUT where to write.
local out = {}
local design = os.getenv("DESIGN")
vim.cmd("edit " .. vim.fn.fnameescape(design))
local buf = vim.api.nvim_get_current_buf()
local client = vim.lsp.start_client({ name = "foredge", cmd = { os.getenv("FOREDGE"), "serve" }, root_dir = vim.fn.fnamemodify(design, ":h") })
vim.lsp.buf_attach_client(buf, client)
local ready = function() return vim.lsp.get_client_by_id(client) ~= nil and vim.lsp.get_client_by_id(client).initialized end
vim.wait(5000, ready, 10)

local function shown()
  local all = {}
  for _, d in ipairs(vim.diagnostic.get(buf)) do
    table.insert(all, { line = d.lnum + 1, column = d.col + 1, severity = d.severity, message = d.message })
  end
  return all
end
local function told(n) return function() return #vim.diagnostic.get(buf) == n end end
local function lines() return vim.api.nvim_buf_get_lines(buf, 0, -1, false) end

-- Puts the cursor on the first place of a word.
local function go(word)
  vim.fn.cursor(1, 1)
  vim.fn.search("\\V" .. word, "cW")
end
local function ask(method, more)
  local params = vim.tbl_extend("force", vim.lsp.util.make_position_params(0, vim.lsp.get_client_by_id(client).offset_encoding), more or {})
  local answers = vim.lsp.buf_request_sync(buf, method, params, 5000)
  for _, a in pairs(answers or {}) do return a.result, a.error end
end

vim.wait(5000, told(1), 10)
out.diagnostics = shown()

go("hieght")
local actions = ask("textDocument/codeAction", { range = { start = { line = vim.fn.line(".") - 1, character = 0 }, ["end"] = { line = vim.fn.line(".") - 1, character = 80 } }, context = { diagnostics = {} } })
out.action = actions[1].title
vim.lsp.util.apply_workspace_edit(actions[1].edit, "utf-16")
vim.wait(5000, told(0), 10)
out.mended = shown()

go("pitch = 8")
go("inset")
out.hover = ask("textDocument/hover").contents.value
go("margin")
out.definition = ask("textDocument/definition")[1].range.start.line + 1
vim.fn.cursor(2, 1)
local items = ask("textDocument/completion")
out.completes = {}
for _, i in ipairs(items) do out.completes[i.label] = true end
out.completes = { units = out.completes["units"], panel = out.completes["panel"] }

go("margin")
local edit = ask("textDocument/rename", { newName = "border" })
vim.lsp.util.apply_workspace_edit(edit, "utf-16")
vim.wait(5000, told(0), 10)
out.renamed = lines()

vim.lsp.buf.formatting_sync({}, 5000)
out.formatted = lines()
vim.wait(500, function() return false end, 10)
out.last = shown()
vim.fn.writefile({ vim.fn.json_encode(out) }, os.getenv("OUT"))
vim.lsp.stop_client(client)
vim.cmd("qall!")
