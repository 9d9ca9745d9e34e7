autocmd BufRead,BufNewFile *.fore setfiletype foredge
