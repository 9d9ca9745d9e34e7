if exists("b:did_ftplugin") | finish | endif
let b:did_ftplugin = 1
setlocal expandtab shiftwidth=2 softtabstop=2
setlocal commentstring=#\ %s comments=:#
setlocal iskeyword+=-
" = lays out lines as all designs are laid out.
setlocal equalprg=foredge\ fmt\ -
