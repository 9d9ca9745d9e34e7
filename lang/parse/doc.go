// Package parse reads a design file into a tree.
//
// Start from [File]. It takes any bytes and always returns a tree: what can't
// be read is in it as a broken part and is reported, at most one error for
// each line and for each statement, and reading goes on with the next
// statement, inside blocks too. So one look at a file shows all that is wrong
// with how it is written. What names mean is not this package's business;
// neither is whether a kind of thing exists.
//
// Invariants: the package never panics and never reads from disk; the place
// of each part of the tree lies within that of the part above it; a
// statement's place doesn't include its line end; each comment has exactly one
// owner; a broken part never comes without an error. Messages speak of what
// is in the file, in a maker's words.
//
// # How a file is read
//
// scan.go cuts the text into tokens, and comments beside them. block.go goes
// from statement to statement: where one ends is known before it is read,
// from its line end, ; or brace, and nothing ever reads past it. What a
// statement opens with is read by package participle with the grammar in
// grammar.go; one look at two tokens tells which of its productions applies,
// so that none is tried in vain. Values are read by precedence climbing in
// expr.go, straight from the tokens.
//
// # The language
//
// A name in capitals is a token. LINE is the end of a line or ; — or nothing
// before a } and after one. Inside brackets a line end still ends the
// statement; after a comma a list may go on in the next line.
//
//	file      = { stmt } .
//	stmt      = version | units | use | decl | mark | relation | prefer | check | let | without .
//	block     = "{" { stmt } "}" .
//
//	version   = "foredge" ( WHOLE | NAME ) LINE .         (* at the top *)
//	units     = "units" NAME LINE .
//	use       = "use" ( TEXT | NAME ) LINE .
//	let       = "let" NAME "=" ( right | choice ) LINE .
//	choice    = { value "when" condition "," } value [ "when" condition ] .
//	without   = "without" NAME LINE .
//	relation  = sum sign right { sign right } LINE .
//	sign      = "=" | "<=" | ">=" .
//	prefer    = "prefer" sum sign right [ "weight" sum ] LINE .
//	check     = "check" condition [ "else" sum ] LINE .
//	decl      = NAME ( NAME | TEXT ) { clause } ( block | LINE ) .
//	clause    = ( "on" | "like" | "mirrors" | "covers" ) name
//	          | "when" condition .
//	mark      = ( "engrave" | "mark" | "score" | "cut" | "inlay" )
//	            ( ( "text" | "art" ) sum { "," sum } | "frame" ) ( block | LINE ) .
//
//	right     = ( value { "," value } ) [ "±" sum | "+/-" sum | "exact" ]
//	          | column .                                (* in orders *)
//	column    = ( NAME | "one" "of" sums ) [ "from" sums ] [ "default" sum ] .
//	sums      = sum { "," sum } .
//	value     = SHAPE sum [ [ "±" sum | "exact" ] "by" sum ] [ "radius" sum ]  (* as ast.ShapeWords says *)
//	          | "along" NAME
//	          | sum [ "by" sum [ "less" sum "by" sum "at" NAME ] ] .
//
//	condition = all { "or" all } .
//	all       = [ "not" ] compare { "and" [ "not" ] compare } .
//	compare   = sum { ( "=" | "!=" | "<" | "<=" | ">" | ">=" ) sum } .
//	sum       = product { ( "+" | "-" ) product } .
//	product   = factor { ( "*" | "/" ) factor } .
//	factor    = "-" factor | number | TEXT | name | index | call | "(" condition ")" .
//	number    = (* see package numeral *) [ unit ] .
//	unit      = (* a name that package unit lists *) .
//	name      = NAME { "." ( NAME | WHOLE ) } .
//	index     = "gap" WHOLE | "corner" NAME .
//	call      = NAME "(" condition { "," condition } ")" .
//
//	NAME      = letter { letter | digit | "-" ( letter | digit ) } .
//	WHOLE     = digit { digit } .
//	TEXT      = '"' { character | '\"' | '\\' | '\n' } '"' .
//	comment   = "#" { character } .
//
// Numbers are read by package numeral, straight from the text. The name of a
// unit is one only after a number. `3 <= A <= 5` in a condition means that
// both hold. Words of the language are names wherever what stands beside them
// leaves no doubt: `radius = 14`, `let count = 3`, `prefer weight = 3`.
package parse
