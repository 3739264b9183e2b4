-- One session of a real editor without a screen, for a test: it opens a plan,
-- lets the language server see it, changes it, follows names, renames and mends,
-- and writes what it has seen as JSON. The environment names the program (SERVER),
-- the workspace (FOLDER), the plan (PLAN) and the file to write (SEEN).
local seen = {}
local patience = 240000 -- ms

local function text()
  return table.concat(vim.api.nvim_buf_get_lines(0, 0, -1, false), "\n") .. "\n"
end

-- Places the cursor on the first piece of text that follows a line's pattern.
local function go(line, word)
  for i, l in ipairs(vim.api.nvim_buf_get_lines(0, 0, -1, false)) do
    local at = l:find(line, 1, true)
    if at then
      local col = l:find(word, at, true)
      vim.api.nvim_win_set_cursor(0, { i, col - 1 })
      return
    end
  end
  error("no line with " .. line)
end

local function ask(method, more)
  local params = vim.lsp.util.make_position_params(0, "utf-16")
  for key, value in pairs(more or {}) do
    params[key] = value
  end
  for _, answer in pairs(vim.lsp.buf_request_sync(0, method, params, patience) or {}) do
    return answer.result
  end
end

-- The findings of a rule, as the editor places them: by bytes.
local function findings(rule)
  local out = {}
  for _, d in ipairs(vim.diagnostic.get(0)) do
    if d.code == rule or d.user_data and d.user_data.lsp and d.user_data.lsp.code == rule then
      local lines = vim.api.nvim_buf_get_lines(0, d.lnum, d.end_lnum + 1, false)
      table.insert(out, { text = lines[1]:sub(d.col + 1, d.end_col), message = d.message, severity = d.severity })
    end
  end
  return out
end

local function await(what, there)
  if not vim.wait(patience, there, 20) then
    error("no " .. what)
  end
end

local function session()
  vim.o.fixendofline = false
  vim.cmd("edit " .. vim.fn.fnameescape(os.getenv("PLAN")))
  vim.bo.filetype = "json"
  local client = vim.lsp.start_client({
    name = "duskproof",
    cmd = { os.getenv("SERVER"), "editor", "--today", "2026-06-01" },
    root_dir = os.getenv("FOLDER"),
    workspace_folders = { { uri = vim.uri_from_fname(os.getenv("FOLDER")), name = "plans" } },
  })
  vim.lsp.buf_attach_client(0, client)
  await("findings", function() return #findings("power.gfci") == 1 end)
  seen.count = #vim.diagnostic.get(0)

  -- Characters outside the basic plane, typed before a finding on its line.
  go('"id": "RC1"', '"at"')
  local cursor = vim.api.nvim_win_get_cursor(0)
  vim.api.nvim_buf_set_text(0, cursor[1] - 1, cursor[2], cursor[1] - 1, cursor[2], { '"//": "🌲🌲 é", ' })
  seen.edited = text()
  await("the finding behind the trees", function()
    local f = findings("power.gfci")
    return #f == 1 and f[1].text == "false"
  end)
  seen.gfci = findings("power.gfci")

  go('"id": "H1"', "H1")
  seen.hover = ask("textDocument/hover").contents.value

  go('"host": "lower-west-cheek"', "lower-west-cheek")
  vim.lsp.util.jump_to_location(ask("textDocument/definition"), "utf-16")
  seen.definition = vim.api.nvim_get_current_line():sub(vim.api.nvim_win_get_cursor(0)[2] + 1)

  go('"id": "RC1"', "RC1")
  vim.lsp.util.apply_workspace_edit(ask("textDocument/rename", { newName = "outlet" }), "utf-16")
  seen.renamed = text()

  await("a proved fix", function()
    local f = findings("site.gate-swing")
    return #f == 1 and f[1].message:find("proved fix", 1, true) ~= nil
  end)
  go('"id": "P3"', "[-2.8, 16.6]")
  local params = vim.lsp.util.make_range_params(0, "utf-16")
  for _, action in ipairs(ask("textDocument/codeAction", { range = params.range, context = { diagnostics = {} } })) do
    if action.isPreferred then
      seen.action = action.title
      vim.lsp.util.apply_workspace_edit(action.edit, "utf-16")
      break
    end
  end
  seen.mended = text()
  await("the fix to be judged", function() return #findings("site.gate-swing") == 0 and #findings("power.gfci") == 1 end)

  vim.lsp.stop_client(client)
  await("the end of the server", function() return vim.lsp.client_is_stopped(client) end)
end

local ok, problem = pcall(session)
seen.problem = not ok and tostring(problem) or nil
local out = assert(io.open(os.getenv("SEEN"), "w"))
out:write(vim.json and vim.json.encode(seen) or vim.fn.json_encode(seen))
out:close()
vim.cmd("qall!")
