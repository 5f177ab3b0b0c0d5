-- A session of a real editor with the language server: what it shows goes to the file SHOWN, row by row.
local design, command, shown = vim.env.DESIGN, vim.env.COMMAND, io.open(vim.env.SHOWN, "w")
local function say(text) shown:write(text .. "\n") end
local function wait(condition) assert(vim.wait(60000, condition, 50), "nothing came") end

vim.cmd("edit " .. design)
vim.bo.filetype = "airwright"
local client = vim.lsp.start_client({ name = "airwright", cmd = { command, "-m", "circuit", "language-server" } })
vim.lsp.buf_attach_client(0, client)
local function with_code(code)
  return vim.tbl_filter(function(one) return one.code == code end, vim.diagnostic.get(0))
end
local function problems()
  for _, one in ipairs(vim.diagnostic.get(0)) do
    say(("  row %d, %s: %s"):format(one.lnum + 1, one.code, vim.split(one.message, "\n")[1]))
  end
end

wait(function() return #with_code("part-backwards") > 0 end)
say("opened: a check valve the wrong way round")
problems()
local at = with_code("part-backwards")[1].lnum
local found = vim.lsp.buf_request_sync(0, "textDocument/codeAction", {
  textDocument = vim.lsp.util.make_text_document_params(), context = { diagnostics = {} },
  range = { start = { line = at, character = 0 }, ["end"] = { line = at, character = 1 } },
}, 20000)[client].result
say("what can be done there")
for _, one in ipairs(found) do say("  " .. one.title) end
vim.lsp.util.apply_workspace_edit(found[1].edit, "utf-16")
wait(function() return #with_code("part-backwards") == 0 end)
say("the first one done: " .. #vim.diagnostic.get(0) .. " problems")

local last = vim.api.nvim_buf_line_count(0)
vim.api.nvim_buf_set_lines(0, last, last, false, { "tube pri -> " })
local offered = vim.lsp.buf_request_sync(0, "textDocument/completion", {
  textDocument = vim.lsp.util.make_text_document_params(), position = { line = last, character = 12 },
}, 20000)[client].result
say("typed `tube pri -> `; offered")
for place = 1, 3 do say("  " .. offered.items[place].label .. ": " .. offered.items[place].detail) end
wait(function() return #with_code("unreadable") > 0 end)
say("what is said of the half-written row")
problems()
vim.api.nvim_buf_set_lines(0, last, last + 1, false, {})
wait(function() return #vim.diagnostic.get(0) == 0 end)

local hint = vim.lsp.buf_request_sync(0, "textDocument/hover", {
  textDocument = vim.lsp.util.make_text_document_params(), position = { line = 0, character = 0 } }, 20000)
assert(hint[client].error == nil)
shown:close()
vim.lsp.stop_client(client)
vim.cmd("quitall!")
