package layout

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"foredge/eval/maybe"
	"foredge/lang/source"
	"foredge/layout/sheet"
)

// A StockError says that there are too few sheets.
type StockError struct {
	Part            Part // one that is cut from it
	Stock, Wood     string
	Sheets, Offcuts int   // of them
	Missing         int   // parts for which there is no room
	Before          Taken // what was taken of the same wood before
	Times           int   // how often all of it is to be cut; 0 stands for once
	// More is with how many more sheets all parts were found room, of all times together, and Each how many sheets each time
	// takes then; absent where that isn't known.
	More, Each maybe.Of[int]
	Line       source.Span // that says how many sheets there are
	// Large says that what is missing is larger than a sheet and has room on offcuts only, of which there are too few.
	Large bool
}

func (e *StockError) Error() string {
	sheets, are := there(e.Sheets, e.Offcuts)
	if e.Large {
		sheets, are = counted(e.Offcuts, "offcut")
	}
	parts := "1 part is"
	if e.Missing != 1 {
		parts = fmt.Sprintf("%d parts are", e.Missing)
	}
	few := "too few"
	if are == "is" {
		few = "too little"
	}
	said := fmt.Sprintf("%s of %s %s %s: ", sheets, e.Stock, are, few)
	each, known := e.Each.Get()
	switch {
	case e.Times > 1 && known:
		takes, _ := there(each, 0)
		said += fmt.Sprintf("it is made %d times, and takes %s each time", e.Times, takes)
	case e.Times > 1:
		said += fmt.Sprintf("%s left over each of the %d times that it is made", parts, e.Times)
	default:
		said += parts + " left over"
	}
	if e.Large {
		said += ", and larger than a sheet"
	}
	if b := e.Before; b.Sheets+len(b.Offcuts) > 0 {
		taken, are := there(b.Sheets, len(b.Offcuts))
		if e.Wood != e.Stock {
			taken += " of " + e.Wood + ", the same wood,"
		}
		said += fmt.Sprintf("; %s %s taken already", taken, are)
	}
	return said
}

// Repeated is what is told where all of it is to be cut so many times, from a supply from which so much was taken before.
func (e *StockError) Repeated(times int, supply Supply, before Taken) *StockError {
	its := *e
	own := e.Before.Times(times, nil)
	left := supply.Less(before).Less(own)
	its.Sheets, its.Offcuts, its.Before = left.Quantity.Or(0), len(left.Offcuts), own.Plus(before)
	if its.Times = times; times == 1 {
		return &its
	}
	if more, known := e.More.Get(); known {
		each := e.Sheets + more
		its.Each, its.More = maybe.Is(each), maybe.Is(each*times-its.Sheets)
	}
	return &its
}

// counted says how many of something there are, with the word to follow.
func counted(n int, of string) (said, are string) {
	if n == 1 {
		return "1 " + of, "is"
	}
	return fmt.Sprintf("%d %ss", n, of), "are"
}

// there says how many sheets and offcuts there are, with the word to follow.
func there(sheets, offcuts int) (said, are string) {
	said, are = counted(sheets, "sheet")
	switch {
	case offcuts == 1:
		said, are = said+" and 1 offcut", "are"
	case offcuts > 1:
		said, are = said+fmt.Sprintf(" and %d offcuts", offcuts), "are"
	}
	return said, are
}

// placed is place, where too few sheets are told with how many would do; before is what was taken of the same
// wood.
func placed(ctx context.Context, pieces []laid, supply Supply, stock string, before Taken, how Search) ([]page, *sheet.Group, error) {
	pages, use, err := place(ctx, pieces, supply, how)
	var short *sheet.ShortError
	if !errors.As(err, &short) {
		return pages, use, err
	}
	few := &StockError{Part: pieces[0].part, Stock: stock, Wood: supply.Wood, Sheets: supply.Quantity.Or(0), Offcuts: len(stated(supply.Offcuts)), Missing: short.Missing,
		Before: before.Stated(), Line: supply.Lines.Quantity}
	if ctx.Err() != nil {
		return nil, nil, few
	}
	supply.Quantity = maybe.Of[int]{}
	pages, use, err = place(ctx, pieces, supply, how)
	if err != nil || ctx.Err() != nil {
		if ctx.Err() == nil && errors.As(err, &short) {
			few.Large, few.Missing = true, short.Missing
		}
		return nil, nil, few
	}
	if n := wholeOf(pages); n > few.Sheets {
		few.More = maybe.Is(n - few.Sheets)
		few.Missing = min(few.Missing, beyond(pages, few.Sheets))
		return nil, nil, few
	}
	return pages, use, nil // it was found in the second try
}

// beyond is how many pieces lie on the sheets that hold fewest, where there are only so many sheets.
func beyond(pages []page, sheets int) (n int) {
	on := make([]int, wholeOf(pages))
	for _, p := range pages {
		if p.offcut == whole && p.number != noSheet {
			on[p.number] += len(p.pieces)
		}
	}
	slices.Sort(on)
	for _, its := range on[:len(on)-sheets] {
		n += its
	}
	return n
}
