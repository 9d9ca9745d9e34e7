" Two columns for each brace that is open, as all designs are laid out; a list that goes
" on in the next line four more. = and Enter take it from here.
if exists("b:did_indent") | finish | endif
let b:did_indent = 1
setlocal autoindent indentexpr=ForedgeIndent(v:lnum) indentkeys=0},o,O,!^F
let b:undo_indent = "setlocal autoindent< indentexpr< indentkeys<"

if exists("*ForedgeIndent") | finish | endif

" A line without its texts and its comment.
function s:bare(lnum)
  return substitute(getline(a:lnum), '"\%(\\.\|[^"\\]\)*"\?\|#.*', '', 'g')
endfunction

" The last line above that is more than a comment, 0 for none.
function s:above(lnum)
  let n = prevnonblank(a:lnum - 1)
  while n > 0 && s:bare(n) =~ '^\s*$'
    let n = prevnonblank(n - 1)
  endwhile
  return n
endfunction

function s:count(text, sign)
  return len(substitute(a:text, '[^' . a:sign . ']', '', 'g'))
endfunction

" How many braces a line closes before anything else stands in it.
function s:closes(text)
  return s:count(matchstr(a:text, '^[ \t};]*'), '}')
endfunction

function ForedgeIndent(lnum)
  let above = s:above(a:lnum)
  if above == 0
    return 0
  endif
  let goeson = s:bare(above) =~ ',\s*$'
  if goeson && getline(a:lnum) =~ '\S'
    return -1 " it may be set in columns
  endif
  " To the first line of the statement above, and down again by its braces.
  let deeper = 0
  let n = above
  while 1
    let text = s:bare(n)
    let deeper += s:count(text, '{') - s:count(text, '}')
    let before = s:above(n)
    if before == 0 || s:bare(before) !~ ',\s*$'
      break
    endif
    let n = before
  endwhile
  if goeson && n != above
    return indent(above)
  elseif goeson
    return indent(n) + 4
  endif
  let deeper += s:closes(s:bare(n)) - s:closes(s:bare(a:lnum))
  return max([0, indent(n) + deeper * shiftwidth()])
endfunction
