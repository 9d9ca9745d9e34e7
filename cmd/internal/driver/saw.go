package driver

import (
	"fmt"
	"slices"
	"strings"

	"foredge/lang/diag"
	"foredge/lang/unit"
	"foredge/layout"
)

// mostSawnTold is of how many sheets, that are sawn in different ways, it is told how.
const mostSawnTold = 6

// Sawn tells of sheets and offcuts of a stock that are larger than the bed, and so are sawn before they
// are run, and where.
func Sawn(u layout.Use, laid *layout.Laid, in unit.Unit) (diags diag.List) {
	length := func(mm float64) string { return unit.FormatLength(mm, in) }
	type kind struct {
		how     string
		numbers []string
	}
	var kinds []kind
	var seen, others []*layout.Sawn // others are those of stocks before it
	for _, s := range laid.Sheets {
		its := s.Sawn
		if its == nil {
			continue
		}
		told := func(other *layout.Sawn) bool { return other.SameSheet(its) && len(other.Cuts) >= len(its.Cuts) }
		if s.Stock != u.Stock {
			if its.Wood != "" {
				others = append(others, its)
			}
			continue
		}
		if slices.ContainsFunc(seen, its.SameSheet) || slices.ContainsFunc(others, told) {
			continue
		}
		seen = append(seen, its)
		how := fmt.Sprintf("%s by %s: %s", length(its.Size.X), length(its.Size.Y), strings.Join(layout.SawOrder(its.Cuts, length), ", then "))
		name := "an offcut"
		if its.Number > 0 {
			name = fmt.Sprint("sheet ", its.Number)
		}
		if i := slices.IndexFunc(kinds, func(k kind) bool { return k.how == how }); i >= 0 {
			kinds[i].numbers = append(kinds[i].numbers, name)
		} else {
			kinds = append(kinds, kind{how, []string{name}})
		}
	}
	if len(seen) == 0 {
		return nil
	}
	of := u.Stock
	if of == "" {
		of = "the stock"
	}
	told := make([]string, 0, len(kinds))
	for _, k := range kinds[:min(len(kinds), mostSawnTold)] {
		name := k.numbers[0]
		if n := len(k.numbers); n > 1 {
			name = fmt.Sprintf("%s and %d more", name, n-1)
		}
		told = append(told, name+", "+k.how)
	}
	more := ""
	if len(kinds) > mostSawnTold {
		more = "; the descriptions in the files say it of the others"
	}
	what := "1 sheet or offcut of %s is larger than the bed, and is sawn or cut up first"
	if len(seen) > 1 {
		what = fmt.Sprint(len(seen)) + " sheets or offcuts of %s are larger than the bed, and are sawn or cut up first"
	}
	diags.Infof("sawn", u.At, what, of).WithHelp("%s%s", strings.Join(told, "; "), more)
	return diags
}
