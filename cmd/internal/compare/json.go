package compare

import (
	"io"

	"foredge/lang/data"
)

type dimensionJSON struct {
	Name   string      `json:"name"`
	Change Change      `json:"change"`
	Was    data.Number `json:"was"` // null where it wasn't there or was open
	Is     data.Number `json:"is"`
	By     data.Number `json:"by"`
	Kind   string      `json:"kind"`
	At     *data.Place `json:"at"`
}

type settingJSON struct {
	Name   string  `json:"name"`
	Change Change  `json:"change"`
	Was    *string `json:"was"` // null where it isn't there
	Is     *string `json:"is"`
}

type shapeJSON struct {
	Part   string      `json:"part"`
	Name   string      `json:"name"`
	Change Change      `json:"change"`
	What   string      `json:"what"`
	By     data.Number `json:"by"`
	Right  data.Number `json:"right"`
	Down   data.Number `json:"down"`
	Wider  data.Number `json:"wider"`
	Higher data.Number `json:"higher"`
	At     *data.Place `json:"at"`
}

type orderJSON struct {
	Order  string      `json:"order"`
	Change Change      `json:"change"`
	By     data.Number `json:"by"`
}

// WriteJSON writes what differs as data: lengths in mm.
func (d *Difference) WriteJSON(w io.Writer) error {
	dimensions, shapes, orders := []dimensionJSON{}, []shapeJSON{}, []orderJSON{}
	for _, c := range d.Dimensions {
		dimensions = append(dimensions, dimensionJSON{c.Name, c.Change, data.Number(c.Old), data.Number(c.New), data.Number(c.New - c.Old), c.Kind.String(), data.At(c.At)})
	}
	settings := []settingJSON{}
	for _, s := range d.Settings {
		settings = append(settings, settingJSON{s.Name, s.Change, stated(s.Old), stated(s.New)})
	}
	for _, s := range d.Shapes {
		shapes = append(shapes, shapeJSON{s.Part, s.Name, s.Change, what(s), data.Number(s.By), data.Number(s.Right), data.Number(s.Down),
			data.Number(s.Wider), data.Number(s.Higher), data.At(s.At)})
	}
	for _, o := range d.Orders {
		orders = append(orders, orderJSON{o.Number, o.Change, data.Number(o.By)})
	}
	return data.Write(w, struct {
		data.Head
		Old        string          `json:"old"`
		New        string          `json:"new"`
		Same       bool            `json:"same"`
		Unit       string          `json:"unit"`
		Dimensions []dimensionJSON `json:"dimensions"`
		Settings   []settingJSON   `json:"settings"`
		Shapes     []shapeJSON     `json:"shapes"`
		Otherwise  bool            `json:"otherwise"`
		Orders     []orderJSON     `json:"orders"`
		AllOrders  int             `json:"all-orders"`
	}{data.NewHead(), d.Old.Name, d.New.Name, d.Same(), "mm", dimensions, settings, shapes, d.Otherwise, orders, d.AllOrders})
}

// stated is null for nothing.
func stated(text string) *string {
	if text == "" {
		return nil
	}
	return &text
}
