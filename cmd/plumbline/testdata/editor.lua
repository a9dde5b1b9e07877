-- Run by neovim as a client of plumbline editor: PROGRAM serves it, FILE is the design. What it saw goes to RESULT as JSON.
local seen = {}
local ok, err = pcall(function()
  vim.cmd('edit ' .. vim.fn.fnameescape(vim.env.FILE))
  local id = vim.lsp.start_client({ name = 'plumbline', cmd = { vim.env.PROGRAM, 'editor' }, root_dir = vim.fn.getcwd() })
  vim.lsp.buf_attach_client(0, id)
  local function marks()
    local out = {}
    for _, d in ipairs(vim.diagnostic.get(0)) do
      -- byte columns, as neovim counts them
      table.insert(out, { line = d.lnum, from = d.col, to = d.end_col, severity = d.severity, code = d.code or '', message = d.message })
    end
    return out
  end
  assert(vim.wait(20000, function() return #marks() > 0 end), 'no marks')
  seen.first = marks()
  local at = { textDocument = vim.lsp.util.make_text_document_params(), position = { line = 4, character = 3 } }
  local answers = vim.lsp.buf_request_sync(0, 'textDocument/hover', at, 20000)
  seen.hover = answers[id].result.contents.value
  vim.api.nvim_buf_set_lines(0, 5, 6, false, { '  kind: turbine' })
  assert(vim.wait(20000, function()
    for _, d in ipairs(marks()) do
      if d.message:find('unknown key') then return false end
    end
    return #marks() > 0
  end), 'the mended mistake stays marked')
  at.position = { line = 5, character = 8 }
  answers = vim.lsp.buf_request_sync(0, 'textDocument/completion', at, 20000)
  seen.offered = vim.tbl_map(function(x) return x.label end, answers[id].result.items)
  vim.lsp.stop_client(id)
  vim.wait(20000, function() return vim.lsp.client_is_stopped(id) end)
  seen.stopped = vim.lsp.client_is_stopped(id)
end)
seen.err = ok and '' or tostring(err)
local f = io.open(vim.env.RESULT, 'w')
f:write(vim.fn.json_encode(seen))
f:close()
vim.cmd('qall!')
