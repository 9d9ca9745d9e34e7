package cutplan

import (
	"math"

	"foredge/cmd/internal/cost"
	"foredge/eval/maybe"
	"foredge/lang/data"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// Data is a plan as data. Lengths are in mm, money in that of the shop; what isn't known is
// null.
type Data struct {
	Bill
	Missing []string    `json:"missing"`
	Stocks  []StockData `json:"stocks"`
	Sheets  []SheetData `json:"sheets"`
	Orders  []LotData   `json:"orders"`
}

// A Charge is what has to do with the laser and with wood.
type Charge struct {
	Minutes data.Number `json:"minutes"`
	Laser   data.Number `json:"laser"`
	Wood    data.Number `json:"wood"`
}

// A StockData is what is taken of a stock. At least are sheets, area and price below which
// nothing holds the parts, each for itself; null where all wasn't laid at once.
type StockData struct {
	Stock       string      `json:"stock"`
	Pieces      int         `json:"pieces"`
	LeastPieces data.Number `json:"least-pieces"`
	Area        data.Number `json:"area"` // mm²
	LeastArea   data.Number `json:"least-area"`
	Used        data.Number `json:"used"`
	Price       data.Number `json:"price"`
	LeastPrice  data.Number `json:"least-price"`
	Charged     data.Number `json:"charged"`
	Rest        []Piece     `json:"rest"` // what is left over, for the next job
}

// A Piece is what is left of a sheet; of some a corner is gone, named like the design's
// offcuts do.
type Piece struct {
	Size
	Gone   *Size  `json:"gone,omitempty"`
	Corner string `json:"corner,omitempty"`
}

// A Size is how large a piece is.
type Size struct {
	Width  data.Number `json:"width"`
	Height data.Number `json:"height"`
}

// A SheetData is a sheet with what lies on it.
type SheetData struct {
	Name    string   `json:"sheet"`
	Files   []string `json:"files"`
	Insides []string `json:"inside-files,omitempty"`
	Stock   string   `json:"stock"`
	Offcut  bool     `json:"offcut"`
	Piece
	Used data.Number `json:"used"`
	Charge
	Sawn  *SawnData  `json:"sawn,omitempty"`
	Knife []CutData  `json:"knife,omitempty"` // in the order of its cuts
	Parts []PartData `json:"parts"`
}

// A CutData is a cut of a knife, from one place to another, in mm from the left upper corner.
type CutData struct {
	From [2]data.Number `json:"from"`
	To   [2]data.Number `json:"to"`
}

// A PartData is a part where it lies.
type PartData struct {
	Part   string      `json:"part"`
	Cover  string      `json:"cover"`
	Order  string      `json:"order,omitempty"`
	Place  int         `json:"place"`
	Left   data.Number `json:"left"`
	Top    data.Number `json:"top"`
	Turned data.Number `json:"turned,omitempty"`
	Inside bool        `json:"inside,omitempty"`
	Charge
}

// A LotData is a design or an order with its covers.
type LotData struct {
	Design string `json:"design,omitempty"`
	Order  string `json:"order,omitempty"`
	Copies int    `json:"copies"`
	Bill
	Covers []CoverData `json:"covers"`
}

// A CoverData is one making of it.
type CoverData struct {
	Cover string `json:"cover"`
	Bill
}

// A Bill is what a cover or several cost.
type Bill struct {
	Charge
	Labour data.Number `json:"labour"`
	Profit data.Number `json:"profit"`
	Cost   data.Number `json:"cost"`
}

// Data is the plan as data.
func (p *Plan) Data() Data {
	all := p.Charge()
	d := Data{Bill: billOf(all), Missing: append([]string{}, all.Missing...),
		Stocks: []StockData{}, Sheets: []SheetData{}, Orders: []LotData{}}
	for _, s := range p.Stocks {
		d.Stocks = append(d.Stocks, stockData(s))
	}
	for i := range p.Sheets {
		d.Sheets = append(d.Sheets, p.sheetData(&p.Sheets[i]))
	}
	for i := range p.Lots {
		l := &p.Lots[i]
		lot := LotData{Design: l.Design, Order: l.Order, Copies: len(l.Covers), Bill: billOf(l.charge()), Covers: []CoverData{}}
		for _, c := range l.Covers {
			lot.Covers = append(lot.Covers, CoverData{c.Name, billOf(c.Charge)})
		}
		d.Orders = append(d.Orders, lot)
	}
	return d
}

func stockData(s Stock) StockData {
	d := StockData{Stock: s.Stock, Pieces: s.Sheets, Area: data.Number(s.Area), Used: data.Number(s.Used), Price: number(s.Cost), Charged: cents(s.Charged), Rest: []Piece{},
		LeastPieces: number(maybe.If(float64(s.LeastSheets), s.Once)), LeastArea: number(maybe.If(s.LeastArea, s.Once)), LeastPrice: number(maybe.If(s.LeastCost.Or(0), s.Once && s.LeastCost.Present()))}
	for _, o := range s.Left {
		piece := Piece{Size: sizeOf(o.Size)}
		if o.Gone != (geom.Point{}) {
			gone := sizeOf(o.Gone)
			piece.Gone, piece.Corner = &gone, o.At().String()
		}
		d.Rest = append(d.Rest, piece)
	}
	return d
}

func (p *Plan) sheetData(s *Sheet) SheetData {
	d := SheetData{Name: s.Name, Files: append([]string{}, s.Files...), Insides: s.InsideFiles, Stock: s.Stock, Offcut: s.Offcut, Piece: Piece{Size: sizeOf(s.Size)}, Used: data.Number(s.Used),
		Charge: Charge{number(s.Minutes), cents(s.Laser), cents(s.Wood)}, Parts: []PartData{}}
	if at, ok := layout.CornerGone(s.Gone); ok {
		gone := sizeOf(geom.Pt(s.Gone.Width(), s.Gone.Height()))
		d.Gone, d.Corner = &gone, at.String()
	}
	d.Sawn, d.Knife = sawnData(s.Sawn), cutsOf(s.Knife)
	for _, part := range s.Parts {
		l := &p.Lots[part.Lot]
		d.Parts = append(d.Parts, PartData{Part: part.Name, Cover: l.Covers[part.Cover].Name, Order: l.Order, Place: part.Place, Left: data.Number(part.At.X), Top: data.Number(part.At.Y),
			Turned: data.Number(part.Turned), Inside: part.Inside, Charge: Charge{number(part.Minutes), cents(part.Laser), cents(part.Wood)}})
	}
	return d
}

func cutsOf(cuts []sheet.Cut) (all []CutData) {
	for _, c := range cuts {
		all = append(all, CutData{pointOf(c.From), pointOf(c.To)})
	}
	return all
}

func billOf(c cost.Charge) Bill {
	money := func(amount int64) data.Number { return cents(maybe.If(amount, c.Total.Present())) }
	return Bill{Charge{number(c.Minutes), money(c.Laser), money(c.Wood)}, money(c.Labour), money(c.Profit), cents(c.Total)}
}

func sizeOf(p geom.Point) Size { return Size{data.Number(p.X), data.Number(p.Y)} }

func pointOf(p geom.Point) [2]data.Number { return [2]data.Number{data.Number(p.X), data.Number(p.Y)} }

func number(m maybe.Of[float64]) data.Number { return data.Number(m.Or(math.NaN())) }

func cents(m maybe.Of[int64]) data.Number {
	amount, known := m.Get()
	return number(maybe.If(float64(amount)/100, known))
}
