if exists("b:did_ftplugin") | finish | endif
let b:did_ftplugin = 1
setlocal expandtab shiftwidth=2 softtabstop=2
setlocal commentstring=#\ %s comments=:#
setlocal iskeyword+=-
let b:undo_ftplugin = "setlocal expandtab< shiftwidth< softtabstop< commentstring< comments< iskeyword< | delcommand -buffer LayOut"

" :LayOut lays the text out as all designs are. One with errors stays as it is.
command! -buffer -bar LayOut call s:layOut()

if exists("*s:layOut") | finish | endif

function s:layOut()
  let was = getline(1, "$")
  let laid = systemlist("foredge fmt -", was)
  if v:shell_error != 0
    echohl ErrorMsg | echomsg "not laid out: " . get(laid, 0, "") | echohl None
    return
  elseif laid == was || empty(laid)
    return
  endif
  let view = winsaveview()
  call setline(1, laid)
  if len(laid) < len(was)
    silent execute "keepjumps " . (len(laid) + 1) . ",$delete _"
  endif
  call winrestview(view)
endfunction
