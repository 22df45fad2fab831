package season

import (
	"math"
	"strconv"
	"strings"

	"seamwright/service/drawing/pen"
	"seamwright/service/measure"
)

// state is one of the three states that are known.
type state struct {
	word   string
	change measure.Length // against as made
	figure string         // what it comes to
	wet    string         // moisture content
}

// chart is a year of something that changes from as made.
type chart struct {
	pen.Pen
	in               pen.Speech
	units            measure.System
	title, about     string
	up, down         string // what above and below the level of making means
	unsigned         bool   // changes are told without their sign: the words say where
	made, dry, humid state
	why              string
	sketch           *sketch // nil: none
	year             *year   // nil: the two seasons alone
	least            float64 // the plot's height, at least; 0: a usual one
	lag, damping     string  // of the year
}

// Sizes in millimetres of paper.
const (
	paperWidth = 166.0
	phoneWidth = 92.0
	space      = 4.0
	plotLeast  = 44.0 // room for the labels of three states
	lowLeast   = 34.0 // the same, with what is over and under the plot
	plotMost   = 120.0
	labelGap   = 13.5 // between the labels of two states
	axisRoom   = 12.0 // for the numbers of the axis
)

// magnified is how many millimetres of the axis stand for one of wood. It is the same for small movements and large ones, so that
// their charts can be held side by side; only what would not fit on a page at all is drawn smaller.
const magnified = 2.0

// caption says what the curve is.
const caption = "Only the dry and the humid season are computed. The curve between them is an illustration (common practice), without dates: seasons differ from house to house, and wood follows the air some weeks late."

func (c *chart) draw(o Options) []byte {
	w, labels, id, frame := paperWidth, 56.0, "season", space
	if o.Narrow {
		w, labels, id = phoneWidth, 45.0, "season-narrow" // both may stand in one page
	}
	if o.Width > 0 {
		frame = 0.5
		w = o.Width - 2*frame
	}
	x, y := frame, frame
	if !o.Picture {
		for _, line := range pen.Wrap(c.title, w, pen.Letters{Size: pen.Title, Bold: true}) {
			y += pen.Title * 1.15
			c.Text(x, y, line, pen.Letters{Size: pen.Title, Bold: true})
		}
		y = c.Paragraph(x, y+1, w, c.about, pen.Letters{Size: pen.Body}) + 4
	} else {
		y = c.Paragraph(x, y, w, c.title+".", pen.Letters{Size: pen.Body, Bold: true}) + 2
	}
	if o.Picture && !o.Narrow && c.sketch != nil {
		const beside = 52.0
		high := stackedHeight
		if o.Low {
			c.least, high = lowLeast, lowHeight
		}
		end := c.plot(x, y, w-labels+4-beside-sketchSpace, labels-4)
		y = max(end, c.stacked(x+w-beside, y-6, beside, high))
		y = c.Paragraph(x, y+1.5, w, c.sketch.says(c.in), pen.Letters{Size: pen.Small})
	} else {
		y = c.plot(x, y, w-labels, labels)
		y = c.sketches(x, y, w)
	}
	if !o.Picture {
		y = c.Paragraph(x, y+2, w, c.captionOf(), pen.Letters{Size: pen.Small, Ink: pen.Faint})
		y = c.Paragraph(x, y+2, w, c.why, pen.Letters{Size: pen.Head})
	}
	return c.Document(w+2*frame, y+frame, id, c.title, c.description())
}

// description tells the chart in words.
func (c *chart) description() string {
	text := c.about
	for _, s := range []*state{&c.dry, &c.made, &c.humid} {
		text += " " + capital(c.in.Say(s.word)) + ": " + s.figure + ", " + c.changeText(s) + ", " +
			c.in.Say("moisture %s", s.wet) + "."
	}
	if c.year != nil {
		text += " " + c.captionOf()
	}
	return text + " " + c.why
}

// changeText is a state's change against as made, signed.
func (c *chart) changeText(s *state) string {
	if s == &c.made || s.change == 0 {
		return c.in.Say("no change")
	}
	change, sign := s.change, ""
	switch v := measure.Round(change.In(c.units), measure.FinePlaces(c.units)); {
	case v < 0:
		change, sign = -change, "−"
	case v > 0:
		sign = "+"
	}
	if c.unsigned {
		sign = ""
	}
	return sign + spoken(c.in, change.Fine(c.units), c.units)
}

// axis is the chart's upright axis: changes of width against as made.
type axis struct {
	lo, hi measure.Length // what it shows
	scale  float64        // millimetres of paper for one of wood
	height float64
	top    float64
}

func (a axis) at(change measure.Length) float64 { return a.top + float64(a.hi-change)*a.scale }

// axis makes room for both seasons, in the middle of it.
func (c *chart) axis(top float64) axis {
	inset := 6.0
	if c.year != nil {
		inset = 10 // the bound is told there
	}
	lo, hi := min(0, c.dry.change, c.humid.change), max(0, c.dry.change, c.humid.change)
	if c.year != nil {
		lo, hi = min(lo, c.year.bound.Least), max(hi, c.year.bound.Greatest)
	}
	a := axis{scale: magnified, top: top}
	for ; float64(hi-lo)*a.scale > plotMost-2*inset; a.scale /= 2 {
	}
	least := plotLeast
	if c.least > 0 {
		least = c.least
	}
	a.height = max(least, float64(hi-lo)*a.scale+2*inset)
	rest := measure.Length(a.height/a.scale) - (hi - lo)
	a.lo, a.hi = lo-rest/2, hi+rest/2
	return a
}

// ticks writes the numbers of the axis: changes against as made, in the chart's units.
func (c *chart) ticks(x, w float64, a axis) {
	unit := measure.Millimetre
	if c.units == measure.Inches {
		unit = measure.Inch
	}
	step, places := 0.0, 0
	for _, one := range []float64{0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50} {
		if step = one; one*float64(unit)*a.scale >= 5 {
			break
		}
	}
	if step < 1 {
		places = 1
	}
	if step == 0.05 {
		places = 2
	}
	l := pen.Letters{Size: pen.Small, At: pen.Right, Ink: pen.Faint}
	for n := int(math.Ceil(float64(a.lo) / (step * float64(unit)))); measure.Length(float64(n)*step)*unit <= a.hi; n++ {
		y := a.at(measure.Length(float64(n)*step) * unit)
		if y < a.top+1.5 || y > a.top+a.height-1.5 {
			continue
		}
		c.Line(x-1, y, x, y, pen.Stroke{Ink: pen.Faint, Width: pen.Thin})
		figure := strconv.FormatFloat(math.Abs(float64(n))*step, 'f', places, 64)
		switch {
		case n > 0 && !c.unsigned:
			figure = "+" + figure
		case n < 0 && !c.unsigned:
			figure = "−" + figure
		case n == 0:
			figure = "0"
		}
		c.Text(x-1.6, y+1, c.in.Number(figure), l)
	}
	c.Text(x-1.6, a.top+a.height+4, c.in.Say(c.units.String()), l)
}

// plot draws the year from a dry season over a humid one to the next dry one, with the three known states marked and
// told beside it, and returns where it ends.
func (c *chart) plot(x, y, w, labels float64) float64 {
	x, w = x+axisRoom, w-axisRoom
	a := c.axis(y)
	at := a.at
	bottom := y + a.height
	moves := c.dry.change != 0 || c.humid.change != 0
	c.Rect(x, y, w, a.height, 0, pen.Stroke{Ink: pen.Faint, Width: pen.Thin})
	c.ticks(x, w, a)
	c.swelling(x, w, at)
	c.Line(x, at(0), x+w, at(0), pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Dash: "2.4 1"})
	curve := make([]pen.Point, 0, 97)
	for i := 0; i <= 96; i++ {
		t := float64(i) / 96
		curve = append(curve, pen.At(x+t*w, at(c.on(t))))
	}
	c.Poly(curve, true, pen.Stroke{Ink: pen.Ink, Width: pen.Thick})
	dry, humid := pen.Stroke{Ink: pen.Dry, Width: 0.5, Fill: pen.White},
		pen.Stroke{Ink: pen.Humid, Width: 0.5, Fill: pen.Humid}
	inDry, inHumid := c.seasonTimes()
	c.Circle(x+inDry*w, at(c.dry.change), 1.3, dry)
	if c.year == nil {
		c.Circle(x+w, at(c.dry.change), 1.3, dry)
	} else {
		c.Line(x+inDry*w, at(c.dry.change), x+w, at(c.dry.change), pen.Stroke{Ink: pen.Dry, Width: pen.Thin, Dash: "0.8 0.8"})
	}
	c.Circle(x+inHumid*w, at(c.humid.change), 1.3, humid)
	c.Line(x+inHumid*w, at(c.humid.change), x+w, at(c.humid.change), pen.Stroke{Ink: pen.Humid, Width: pen.Thin,
		Dash: "0.8 0.8"})
	if c.year != nil {
		c.months(x, w, a)
	} else {
		c.seasons(x, bottom, w)
	}
	if moves {
		side := pen.Letters{Size: pen.Small, Ink: pen.Faint, Halo: true}
		c.Text(x+1.5, y+3.6, "↑ "+c.up, side)
		c.Text(x+1.5, bottom-1.6, "↓ "+c.down, side)
	}
	c.tell(x+w, y, labels, a)
	return bottom + 5.5
}

// seasons writes the seasons below the plot.
func (c *chart) seasons(x, bottom, w float64) {
	l := pen.Letters{Size: pen.Body}
	c.Text(x, bottom+4, c.in.Say("dry"), l)
	l.At = pen.Middle
	c.Text(x+w/2, bottom+4, c.in.Say("humid"), l)
	l.At = pen.Right
	for _, again := range []string{c.in.Say("dry again"), c.in.Say("dry")} {
		if pen.Width(again, l)+pen.Width(c.in.Say("humid"), l)/2+1 < w/2 {
			c.Text(x+w, bottom+4, again, l)
			break
		}
	}
}

// on is the curve: half a wave from the dry season's value to the humid one's, and back; the year's months where they
// are known.
func (c *chart) on(t float64) measure.Length {
	if c.year != nil {
		return c.year.at(t)
	}
	share := measure.Length((1 - math.Cos(2*math.Pi*t)) / 2)
	return c.dry.change + (c.humid.change-c.dry.change)*share
}

// swelling fills what lies between the curve and the level of making: plain above it, with upright strokes below.
func (c *chart) swelling(x, w float64, at func(measure.Length) float64) {
	base := at(0)
	up := []pen.Point{pen.At(x, base)}
	for i := 0; i <= 96; i++ {
		t := float64(i) / 96
		y := at(c.on(t))
		up = append(up, pen.At(x+t*w, math.Min(base, y)))
		if y > base+0.05 && i%2 == 0 {
			c.Line(x+t*w, base, x+t*w, y, pen.Stroke{Ink: pen.Pale, Width: pen.Thin})
		}
	}
	c.Poly(append(up, pen.At(x+w, base)), false, pen.Stroke{Fill: pen.Wood})
}

// tell writes the three states beside the plot, none over another.
func (c *chart) tell(x, y, w float64, a axis) {
	at := a.at
	states := []*state{&c.humid, &c.made, &c.dry}
	inks := map[*state]string{&c.humid: pen.Humid, &c.made: pen.Ink, &c.dry: pen.Dry}
	for i := 1; i < len(states); i++ { // from the top
		for j := i; j > 0 && at(states[j].change) < at(states[j-1].change); j-- {
			states[j], states[j-1] = states[j-1], states[j]
		}
	}
	want := make([]float64, len(states))
	for i, s := range states {
		want[i] = at(s.change)
	}
	ys, _ := pen.Spread(want, labelGap, y-6, y+a.height+6) // three labels always have room
	for i, s := range states {
		from := want[i]
		c.Poly([]pen.Point{pen.At(x+0.8, from), pen.At(x+2.5, from), pen.At(x+5, ys[i]), pen.At(x+6, ys[i])}, true,
			pen.Stroke{Ink: inks[s], Width: pen.Thin})
		small, bold := pen.Letters{Size: pen.Body}, pen.Letters{Size: pen.Body, Bold: true, Ink: inks[s]}
		// never shortened: it is the figure
		c.Text(x+7, ys[i]-2.6, c.in.Say(strings.TrimSuffix(s.word, " season"))+": "+c.short(s), bold)
		c.Text(x+7, ys[i]+0.9, pen.Fit(s.figure, w-7, small), small)
		c.Text(x+7, ys[i]+4.4, pen.Fit(c.in.Say("moisture %s", s.wet), w-7, small), small)
	}
}

// short is a state's change without words.
func (c *chart) short(s *state) string {
	if s == &c.made || s.change == 0 {
		return "0"
	}
	return c.changeText(s)
}
