// Package choices draws a set of options: each at its price and its yearly movement, those that no other beats told by
// their numbers, and under the chart what they are.
//
// It is pure: the same set and options give the same bytes.
package choices

import (
	"math"
	"slices"
	"strconv"

	"seamwright/service/drawing/pen"
	"seamwright/service/measure"
	"seamwright/service/options"
)

// Options say how a picture is drawn. The zero value is for paper.
type Options struct {
	Narrow bool // for a phone
	Speech pen.Speech
}

// Sizes in millimetres of paper.
const (
	margin   = 6.0
	wide     = 180.0
	narrow   = 92.0
	left     = 14.0 // for the figures of the axis
	below    = 10.0
	dot      = 1.1
	mostTold = 24 // rows under the chart; the rest is in the table
)

type chart struct {
	pen.Pen
	Options
	set    *options.Set
	width  float64
	x0, y0 float64 // the corner of the axes
	w, h   float64
	least  [2]float64 // price, movement
	most   [2]float64
}

// Draw returns the picture as an SVG document.
func Draw(set *options.Set, o Options) []byte {
	c := &chart{Options: o, set: set, width: wide}
	if o.Narrow {
		c.width = narrow
	}
	title := c.say("Price and yearly movement of one option")
	if len(set.Options) > 1 {
		title = c.say("Price and yearly movement of %s options", strconv.Itoa(len(set.Options)))
	}
	y := c.Headline(margin, margin, c.width-2*margin, title) + 2
	c.x0, c.w, c.h = margin+left, c.width-2*margin-left, (c.width-2*margin)*0.5
	c.y0 = y + c.h
	c.bounds()
	c.axes()
	c.marks()
	y = c.rows(c.y0 + below + 3)
	y = c.Paragraph(
		margin,
		y+1,
		c.width-2*margin,
		c.say(
			"Filled and numbered: no other option is as good in everything and better in something (price, movement, weight, days, strength). Hollow: another one is.",
		),
		pen.Letters{Size: pen.Small, Ink: pen.Faint},
	)
	return c.Document(c.width, y+margin, "options", c.say("Options side by side"), c.about())
}

func (c *chart) say(english string, values ...any) string { return c.Speech.Say(english, values...) }

func (c *chart) figures(o *options.Option) [2]float64 {
	return [2]float64{o.Total.Float(), o.Movement.Number(c.set.Units)}
}

// bounds are the axes' ends: round figures round what there is.
func (c *chart) bounds() {
	for k := range 2 {
		lo, hi := math.Inf(1), math.Inf(-1)
		for i := range c.set.Options {
			f := c.figures(&c.set.Options[i])[k]
			lo, hi = min(lo, f), max(hi, f)
		}
		s := step(max(hi-lo, hi*0.05, 1e-6))
		c.least[k], c.most[k] = s*math.Floor(lo/s-0.2), s*math.Ceil(hi/s+0.2)
		c.least[k] = max(c.least[k], 0)
	}
}

// step is a round figure of which a span has about four.
func step(span float64) float64 {
	ten := math.Pow(10, math.Floor(math.Log10(span/4)))
	for _, n := range []float64{1, 2, 2.5, 5} {
		if span/(n*ten) <= 5 {
			return n * ten
		}
	}
	return 10 * ten
}

func (c *chart) at(f [2]float64) (x, y float64) {
	return c.x0 + c.w*(f[0]-c.least[0])/(c.most[0]-c.least[0]), c.y0 - c.h*(f[1]-c.least[1])/(c.most[1]-c.least[1])
}

func (c *chart) axes() {
	grid := pen.Stroke{Ink: pen.Pale, Width: pen.Thin}
	small := pen.Letters{Size: pen.Small, Ink: pen.Faint}
	for k := range 2 {
		s := step((c.most[k] - c.least[k]) / 1.2)
		for v := c.least[k]; v <= c.most[k]+s/1000; v += s {
			f := c.least
			f[k] = v
			x, y := c.at(f)
			text := strconv.FormatFloat(measure.Round(v, 4), 'f', -1, 64)
			if k == 0 {
				c.Line(x, c.y0, x, c.y0-c.h, grid)
				c.Text(x, c.y0+4, c.Speech.Amount(text), pen.Letters{Size: pen.Small, Ink: pen.Faint, At: pen.Middle})
				continue
			}
			c.Line(c.x0, y, c.x0+c.w, y, grid)
			c.Text(c.x0-1, y+1, c.Speech.Number(text), pen.Letters{Size: pen.Small, Ink: pen.Faint, At: pen.Right})
		}
	}
	axis := pen.Stroke{Ink: pen.Ink, Width: pen.Medium}
	c.Line(c.x0, c.y0, c.x0+c.w, c.y0, axis)
	c.Line(c.x0, c.y0, c.x0, c.y0-c.h, axis)
	c.Text(
		c.x0+c.w,
		c.y0+8.5,
		c.say("total, %s", c.set.Currency),
		pen.Letters{Size: pen.Small, Ink: pen.Faint, At: pen.Right},
	)
	c.Text(c.x0+1, c.y0-c.h+3, c.say("movement over a year, %s", c.set.Units.String()), small)
}

// marks draws the beaten ones first, so that the others lie over them, and numbers these where there is room.
func (c *chart) marks() {
	taken, better := slices.Clone(c.Boxes()), []*options.Option(nil)
	for _, dominated := range []bool{true, false} {
		for i := range c.set.Options {
			o := &c.set.Options[i]
			if (o.DominatedBy > 0) != dominated {
				continue
			}
			x, y := c.at(c.figures(o))
			taken = append(taken, pen.Box{X0: x - dot, Y0: y - dot, X1: x + dot, Y1: y + dot})
			if dominated {
				c.Circle(x, y, dot, pen.Stroke{Ink: pen.Faint, Width: pen.Medium, Fill: pen.White})
				continue
			}
			c.Circle(x, y, dot, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.Ink})
			better = append(better, o)
		}
	}
	for _, o := range better {
		taken = c.number(c.figures(o), strconv.Itoa(o.Number), taken)
	}
}

// number stands right of its mark, or on another side where a mark or something written is already; where nothing is
// free it is left out, as the rows below say the figures. It returns what is taken with it.
func (c *chart) number(figures [2]float64, text string, taken []pen.Box) []pen.Box {
	x, y := c.at(figures)
	l := pen.Letters{Size: pen.Small, Bold: true, Halo: true}
	w := pen.Width(text, l)
	for _, at := range [][2]float64{{dot + 0.6, 1}, {-dot - 0.6 - w, 1}, {-w / 2, -dot - 0.8}, {-w / 2, dot + 2.8},
		{0.6, -dot - 0.5}, {-0.6 - w, dot + 2.4}} {
		box := pen.Box{X0: x + at[0], Y0: y + at[1] - pen.Small*0.8, X1: x + at[0] + w, Y1: y + at[1] + 0.4}
		meets := func(o pen.Box) bool { return box.X0 < o.X1 && o.X0 < box.X1 && box.Y0 < o.Y1 && o.Y0 < box.Y1 }
		if box.X0 >= c.x0 && box.X1 <= c.x0+c.w+margin && !slices.ContainsFunc(taken, meets) {
			c.Text(x+at[0], y+at[1], text, l)
			return append(taken, box)
		}
	}
	return taken
}

// rows say of each option that no other beats what it is.
func (c *chart) rows(y float64) float64 {
	told, left := 0, 0
	for i := range c.set.Options {
		o := &c.set.Options[i]
		if o.DominatedBy > 0 {
			continue
		}
		if told == mostTold {
			left++
			continue
		}
		told++
		y = c.row(o, y)
	}
	if left > 0 {
		y = c.Paragraph(
			margin,
			y,
			c.width-2*margin,
			c.say("%s more are in the table.", strconv.Itoa(left)),
			pen.Letters{Size: pen.Small, Ink: pen.Faint},
		)
	}
	return y
}

func (c *chart) row(o *options.Option, y float64) float64 {
	name, figure := pen.Letters{Size: pen.Body}, pen.Letters{Size: pen.Body, At: pen.Right}
	price := c.Speech.Amount(o.Total.String()) + " " + c.set.Currency
	c.Text(margin+7, y+pen.Body, strconv.Itoa(o.Number), pen.Letters{Size: pen.Body, Bold: true, At: pen.Right})
	room := c.width - 2*margin - 9 - pen.Width(price, figure) - 3
	c.Text(c.width-margin, y+pen.Body, price, figure)
	for _, line := range pen.Wrap(c.what(o), room, name) {
		y += pen.Body * 1.35
		c.Text(margin+9, y-pen.Body*0.35, line, name)
	}
	facts := c.say("moves %s, weighs %s", c.Speech.Number(o.Movement.Text(c.set.Units))+" "+c.set.Units.String(), c.mass(o))
	switch {
	case o.WorkingDays == 1:
		facts += ", " + c.say("1 working day")
	case o.WorkingDays > 1:
		facts += ", " + c.say("%s working days", strconv.Itoa(o.WorkingDays))
	}
	return c.Paragraph(margin+9, y, room, facts, pen.Letters{Size: pen.Small, Ink: pen.Faint}) + 1
}

func (c *chart) mass(o *options.Option) string {
	unit := " kg"
	if c.set.Units == measure.Inches {
		unit = " lb"
	}
	return c.Speech.Phrase(o.WholeWeight + unit)
}

// what is an option's name: wood, thickness, joints and finish.
func (c *chart) what(o *options.Option) string {
	text := c.Speech.Name(o.Wood) + ", " + c.Speech.Number(o.Thickness.Text(c.set.Units)) + " " + c.set.Units.String()
	seen := ""
	for _, k := range o.Joints {
		if word := k.Traits().Name; word != seen {
			text, seen = text+", "+c.say(word), word
		}
	}
	if o.FinishName == "" {
		return text + ", " + c.say("bare wood")
	}
	return text + ", " + c.Speech.Name(o.FinishName)
}

func (c *chart) about() string {
	best := &c.set.Options[0]
	return c.Speech.Count(len(c.set.Options), "%s option: %s at %s.", "%s options; the first is %s at %s.",
		strconv.Itoa(len(c.set.Options)),
		c.what(best),
		c.Speech.Amount(best.Total.String())+" "+c.set.Currency,
	)
}
