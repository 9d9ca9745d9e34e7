package glance

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"foredge/lang/source"
)

// Table writes rows in columns, each line behind the same beginning.
func Table(w io.Writer, begin string, rows [][]string) {
	var wide []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range rows {
		line := begin
		for i, cell := range row {
			line += source.Isolated(cell) + strings.Repeat(" ", wide[i]-utf8.RuneCountInString(cell)+2)
		}
		fmt.Fprintln(w, strings.TrimRight(line, " "))
	}
}
