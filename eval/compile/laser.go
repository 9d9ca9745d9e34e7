package compile

import (
	"regexp"
	"strconv"

	"foredge/eval/kind"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/word"
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
		laser.Bed = c.pair(key, p)
	case "kerf":
		laser.Kerf = c.kerf(p)
	case "scale-x":
		laser.ScaleX = c.scale(key, p)
	case "scale-y":
		laser.ScaleY = c.scale(key, p)
	case "quiet":
		laser.Quiet = c.quiet(p, true)
	default:
		c.colour(laser, key, p)
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

// colour reads the drawing colour of an operation: engrave-colour = "#CC79A7".
func (c *compiler) colour(laser *model.Laser, key string, p property) {
	wrong := func(what string) {
		c.Diags.Errorf("colour", p.at(), "%s is not a colour", what).
			WithHelp("write it as six hexadecimal digits in quotes, as in \"#CC79A7\"")
	}
	t, ok := c.text(p, func() { wrong(p.at().Short()) })
	if !ok {
		return
	}
	if !colourForm().MatchString(t.Text) {
		wrong(strconv.Quote(t.Text))
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
