package compile

import (
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/word"
	"foredge/lang/unit"
)

// tabsLine decodes what tabs state: `count = 5`, `extension = 12`.
func (c *compiler) tabsLine(n *model.Tabs, key string, p property) {
	switch key {
	case "extension", "radius":
		x, ok := c.As(p.value, p.scope, unit.Length, key)
		if !ok {
			return
		}
		if v, known := x.Constant(); known && (v < 0 || v == 0 && key == "extension") {
			what := "must be above 0"
			if key == "radius" {
				what = "can't be below 0"
			}
			c.Diags.Errorf("positive", p.at(), "the %s of a tab %s", key, what).
				WithHelp("extension is how far a tab stands out, radius that of its outer corners; without a radius they are square")
			return
		}
		c.needExpr(x)
		*map[string]*maybe.Of[relation.Expr]{"extension": &n.Extension, "radius": &n.Radius}[key] = maybe.Is(x)
	default:
		if v, ok := c.number(key, p, unit.Count, 1); ok {
			*map[string]*maybe.Of[int]{"count": &n.Count, "places": &n.Places, "place": &n.Place}[key] = maybe.Is(int(v))
		}
	}
}

// ownTexts leaves, of the texts that are listed for a set, one of that set its own. A set without a
// count has as many dividers as places.
func ownTexts(d *draft, n *model.Tabs) {
	place, single := n.Place.Get()
	set, many := n.Count.Get()
	if !many && d.props["places"].from != d.props["place"].from {
		set, many = n.Places.Get()
	}
	if !single || !many || place > set {
		return
	}
	for _, m := range n.Marks {
		if l, ok := m.(*model.Lettering); ok && len(l.Each) == set {
			l.Each = l.Each[place-1 : place]
		}
	}
}

// checkTabs sees that tabs say all that they need, and that their numbers and
// texts go together.
func (c *compiler) checkTabs(d *draft, n *model.Tabs) {
	if n.Edge == word.NoEdge && !d.thing.BadEdge {
		c.Diags.Errorf("no-edge", n.At, "nothing says along which edge %s stands", d.Path).
			WithHelp("write tabs %s on foredge {, or another edge", n.Name)
	}
	if _, stated := d.props["extension"]; !stated && !c.Diags.HasErrors() {
		c.Diags.Errorf("tabs", n.At, "nothing says how far the tabs of %s stand out", d.Path).
			WithHelp("state it in its braces, as in extension = %s", unit.Example(12, n.Unit))
	}
	c.oneSet(n)
	first, last, places := n.Set()
	at := func(key string) property { return d.props[key] }
	switch p, single := d.props["place"]; {
	case !n.Count.Present() && !n.Places.Present():
		if !c.Diags.HasErrors() {
			c.Diags.Errorf("tabs", n.At, "nothing says how many tabs %s has", d.Path).
				WithHelp("write count = 5 for a set of five dividers, or places = 8; place = 5 for the fifth of eight alone")
		}
		return
	case single && n.Count.Present() && p.from == at("count").from: // else it is one of the set that it is like
		c.Diags.Errorf("tabs", p.at(), "place makes one divider alone, so %s can't have a count too", d.Path).
			Note(at("count").at(), "it is stated here").
			WithHelp("leave out count for the one, or place for the set")
		return
	case single && first > places:
		c.Diags.Errorf("tabs", p.at(), "there is no place %d of %d along the %s", first, places, n.Edge).
			WithHelp("state a place from 1 to %d, or more places", places)
		return
	case !single && last > places:
		c.Diags.Errorf("tabs", at("count").at(), "%d tabs can't stand in %d places", last, places).
			WithHelp("state as many places as tabs, or leave places out")
		return
	}
	if !n.Place.Present() && last > model.MaxMembers {
		many := "count"
		if !n.Count.Present() {
			many = "places"
		}
		c.Diags.Errorf("tabs", at(many).at(), "a set has at most %d dividers", model.MaxMembers).WithHelp("make several sets")
		return
	}
	for _, m := range n.Marks {
		if l, ok := m.(*model.Lettering); ok && l.Each != nil && len(l.Each) != last-first+1 {
			c.texts(d, n, l, last-first+1)
		}
	}
}

// texts reports a list that hasn't one text for each divider.
func (c *compiler) texts(d *draft, n *model.Tabs, l *model.Lettering, dividers int) {
	at := l.Each[0].At.To(l.Each[len(l.Each)-1].At)
	if dividers == 1 {
		c.Diags.Errorf("texts", at, "there are %d texts here, but %s makes one divider", len(l.Each), d.Path).
			WithHelp("write the text of that one alone")
		return
	}
	c.Diags.Errorf("texts", at, "there are %d texts here, and %s has %d dividers", len(l.Each), d.Path, dividers).
		WithHelp("list one for each, from the %s on; \"\" leaves one blank", start(n.Edge))
}

// start is the edge at which the places along an edge begin.
func start(e word.Edge) word.Edge {
	from, _ := e.Ends()
	return from
}

// oneSet reports second tabs on a panel.
func (c *compiler) oneSet(n *model.Tabs) {
	switch {
	case n.Panel == nil:
	case n.Panel.Tabs != nil:
		c.Diags.Errorf("tabs", n.At, "%s has tabs already, and a divider has one", n.Panel.Path).
			Note(n.Panel.Tabs.At, "the others are here").WithHelp("take one of the two out, or put a `when` on each")
	default:
		n.Panel.Tabs = n
	}
}
