package compile

import (
	"regexp"
	"strconv"

	"foredge/eval/kind"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/word"
	"foredge/lang/diag"
	"foredge/lang/unit"
)

// machine finds the laser that the design is cut with: the file's own, or the
// only one that it uses.
func (c *compiler) machine() {
	var found []*draft
	for _, t := range c.info.Main.Nearest(kind.Laser) {
		found = append(found, c.draft(t))
	}
	switch {
	case len(found) == 0:
		return
	case len(found) > 1 && found[0].thing.File == c.info.Main:
		c.Diags.Errorf("two-lasers", found[1].At, "there are two lasers here, and nothing says which one is meant").
			Note(found[0].At, "the first is here").WithHelp("keep one laser in a file; a file's own laser wins over those it uses")
	case len(found) > 1:
		c.Diags.Errorf("two-lasers", found[1].At, "two lasers come from used files, and nothing says which one is meant").
			Note(found[0].At, "the first is here").
			WithHelp("declare one in the design itself: a file's own laser wins over those it uses")
	}
	c.Laser, _ = found[0].node.(*model.Laser)
}

func (c *compiler) laserLine(laser *model.Laser, key string, p property) {
	switch key {
	case "bed":
		laser.Bed = c.sheetSize(key, "a bed", p)
	case "kerf":
		laser.Kerf = c.kerf(p)
	case "line-width":
		laser.LineWidth = c.lineWidth(key, p)
	case "scale-x":
		laser.ScaleX = c.scale(key, p)
	case "scale-y":
		laser.ScaleY = c.scale(key, p)
	case "quiet":
		laser.Quiet = c.quiet(p, kind.Laser)
	case "engrave-colour", "mark-colour", "score-colour", "cut-colour":
		c.colour(laser, key, p)
	case "rate", "labour", "waste", "profit":
		c.shopLine(&laser.Shop, key, p)
	default:
		c.paceLine(&laser.Pace, &laser.Speeds, key, p)
	}
}

// scale reads the correction of an axis.
func (c *compiler) scale(key string, p property) maybe.Of[float64] {
	v, ok := c.number(key, p, unit.Ratio, 0)
	if ok && (v < 0.9 || v > 1.1) {
		c.Diags.Errorf("scale", p.at(), "a scale of %s is more than a fine correction of an axis", unit.FormatNumber(v, 4)).
			WithHelp("scale-x = 1.002 says that the machine moves 1.002 mm where it should move 1 mm")
	}
	return maybe.If(v, ok)
}

// lineWidth reads how wide the lines of a file are drawn. In SVG a width of 0 is
// no line at all.
func (c *compiler) lineWidth(key string, p property) maybe.Of[float64] {
	const least, most = 0.001, 1
	v, ok := c.constant(key, p.value, p, unit.Length)
	if ok && (v < least || v > most) {
		c.Diags.Errorf("line-width", p.at(), "the lines of a file can't be %s wide, only from %g to %g mm", unit.FormatLength(v, p.scope.File().Unit), least, float64(most)).
			WithHelp("line-width = 0.01 mm makes hairlines for a machine that asks for them; without this line they are 0.1 mm wide, which can be seen")
	}
	return maybe.If(v, ok)
}

// colour reads the drawing colour of an operation: engrave-colour = "#CC79A7".
func (c *compiler) colour(laser *model.Laser, key string, p property) {
	wrong := func(code diag.Code, what string) {
		c.Diags.Errorf(code, p.at(), "%s is not a colour", what).
			WithHelp("write it as six hexadecimal digits in quotes, as in \"#CC79A7\"")
	}
	t, ok := c.text(p, func(code diag.Code) { wrong(code, p.at().Short()) })
	if !ok {
		return
	}
	if !colourForm().MatchString(t.Text) {
		wrong("colour", strconv.Quote(t.Text))
		return
	}
	for _, op := range word.Operations() {
		if key == op.String()+"-colour" {
			if laser.Colours == nil {
				laser.Colours = map[word.Operation]string{}
			}
			laser.Colours[op] = t.Text
		}
	}
}

func colourForm() *regexp.Regexp { return regexp.MustCompile(`^#[0-9A-Fa-f]{6}$`) }
