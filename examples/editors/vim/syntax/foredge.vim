if exists("b:current_syntax") | finish | endif
syntax match foredgeComment "#.*$"
syntax region foredgeText start=+"+ skip=+\\.+ end=+"\|$+
syntax match foredgeNumber "\<\d\+\(\.\d\+\)\?\(\s\+\d\+/\d\+\)\?\>"
syntax match foredgeUnit "\(\d\s*\)\@<=\(mm\|cm\|m\|in\|pt\|deg\)\>"
syntax keyword foredgeStatement foredge units use let prefer check without weight else default
syntax keyword foredgeClause on like mirrors covers when and or not by less exact along
syntax match foredgeClause "\<at\ze\s\+\(head\|tail\)-\(left\|right\)\>"
syntax keyword foredgeFunction min max abs sqrt floor ceil nearest
syntax match foredgeKind "\(^\|[{};]\)\s*\zs\(binding\|case\|cutout\|field\|gap\|job\|laser\|lattice\|line\|make\|material\|notebook\|orders\|panel\|pattern\|region\|row\|stitch\|stock\|style\|tabs\)\ze\s\+[[:alpha:]\"]"
syntax match foredgeMark "\<\(engrave\|mark\|score\|cut\|inlay\)\s\+\(text\|art\|frame\)\>"
highlight default link foredgeComment Comment
highlight default link foredgeText String
highlight default link foredgeNumber Number
highlight default link foredgeUnit Type
highlight default link foredgeStatement Statement
highlight default link foredgeClause Keyword
highlight default link foredgeFunction Function
highlight default link foredgeKind Structure
highlight default link foredgeMark Statement
let b:current_syntax = "foredge"
