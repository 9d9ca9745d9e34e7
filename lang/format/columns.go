package format

import (
	"cmp"
	"slices"

	"foredge/lang/parse"
)

// A cell is an item that is set in a column.
type cell struct{ line, item int }

// align says where each item of each line begins: after what stands before it, or in
// the column in which it was written with others below or above it.
func (f *formatter) align() {
	for k := range f.lines {
		f.lines[k].at = make([]int, f.lines[k].to-f.lines[k].from)
	}
	for from := 0; from < len(f.lines); {
		to := from + 1
		for to < len(f.lines) && f.lines[to].depth == f.lines[from].depth && !f.lines[to].blank && !f.opens(f.lines[to-1]) {
			to++
		}
		f.columns(from, to)
		f.comments(from, to)
		from = to
	}
}

// columns sets the lines of a stretch without empty lines.
func (f *formatter) columns(from, to int) {
	type column struct {
		at   int
		sign bool // signs stand below signs
	}
	byColumn := map[column][]cell{}
	for k := from; k < to; k++ {
		l := f.lines[k]
		for i := l.from + 1; i < l.to && f.items[l.from].first && !f.items[i].first; i++ {
			if f.looked++; !f.comment(i) && f.gap(i) > 0 {
				c := column{f.items[i].column, f.items[i].Kind == parse.Sign}
				byColumn[c] = append(byColumn[c], cell{k, i})
			}
		}
	}
	var columns [][]cell
	for _, cells := range byColumn {
		for n := 0; n < len(cells); {
			m := n + 1
			for m < len(cells) && cells[m].line == cells[m-1].line+1 && f.lines[cells[m].line].goes == f.lines[cells[n].line].goes {
				m++
			}
			if m > n+1 && slices.ContainsFunc(cells[n:m], f.padded) {
				columns = append(columns, cells[n:m])
			}
			n = m
		}
	}
	slices.SortFunc(columns, func(a, b []cell) int {
		return cmp.Or(cmp.Compare(f.items[a[0].item].column, f.items[b[0].item].column), cmp.Compare(a[0].line, b[0].line))
	})
	done := make([]int, to-from) // items that have their place
	for k := from; k < to; k++ {
		done[k-from] = f.lines[k].from
	}
	for _, cells := range columns {
		at := 0
		for _, c := range cells {
			f.lay(c.line, done[c.line-from], c.item+1)
			at = max(at, f.lines[c.line].at[c.item-f.lines[c.line].from])
		}
		for _, c := range cells {
			f.lines[c.line].at[c.item-f.lines[c.line].from] = at
			done[c.line-from] = c.item
		}
	}
	for k := from; k < to; k++ {
		f.lay(k, done[k-from], f.lines[k].to)
	}
}

// written reports whether an item stands in the same line as the first of its line in
// the text as it was.
func (f *formatter) written(l line, i int) bool {
	for k := l.from + 1; k <= i; k++ {
		if f.looked++; f.items[k].first {
			return false
		}
	}
	return f.items[l.from].first
}

// padded reports whether more blanks stand before an item than are needed.
func (f *formatter) padded(c cell) bool {
	a := f.items[c.item-1]
	return f.items[c.item].column-a.column-width(a.text) > max(1, f.gap(c.item))
}

// lay puts the items after done, which has its place, up to to behind one another.
func (f *formatter) lay(k, done, to int) {
	l := f.lines[k]
	for i := done + 1; i < to; i++ {
		f.looked++
		l.at[i-l.from] = l.at[i-1-l.from] + width(f.items[i-1].text) + f.gap(i)
	}
}

// comments sets those at the ends of lines below one another that were so; lines
// without one may stand between them.
func (f *formatter) comments(from, to int) {
	var run []cell
	set := func() {
		at := 0
		for _, c := range run {
			l := f.lines[c.line]
			at = max(at, f.indent(l)+l.at[c.item-l.from])
		}
		for _, c := range run {
			l := f.lines[c.line]
			l.at[c.item-l.from] = at - f.indent(l)
		}
		run = run[:0]
	}
	for k := from; k < to; k++ {
		l := f.lines[k]
		i := l.to - 1
		if f.looked++; !f.comment(i) || i == l.from {
			continue
		}
		if len(run) > 0 && (!f.written(l, i) || f.items[i].across != f.items[run[0].item].across) {
			set()
		}
		run = append(run, cell{k, i})
	}
	set()
}
