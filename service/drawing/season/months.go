package season

import (
	"math"
	"strconv"
	"strings"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

// year is the months of a slab that stays behind the air, which an order asks for (moisture.seasonal).
type year struct {
	change [12]measure.Length // of the width against as made, in the middle of each month
	bound  estimate.Swing     // if the wood followed the air at once
}

// yearCaption says what the curve and the lines of a year with months are.
const yearCaption = "Each month is computed: the air reaches the slab through its finish and its thickness, so that it comes %s days after the air and makes %s of its swing. The dashed lines are the bound: wood that followed the air at once."

// yearOf is the year of a run; nil where the order did not ask for it.
func yearOf(s *estimate.Seasonal) *year {
	if s == nil || len(s.Months) != 12 {
		return nil
	}
	y := &year{bound: s.Bound}
	for k := range s.Months {
		y.change[k] = s.Months[k].Change
	}
	return y
}

// at is the change at a time of the year, 0 to 1 from the first of January: straight from the middle of a month to that
// of the next, as nothing is computed between.
func (y *year) at(t float64) measure.Length {
	month := t*12 - 0.5
	k := math.Floor(month)
	share := measure.Length(month - k)
	from, to := y.change[(int(k)+12)%12], y.change[(int(k)+13)%12]
	return from + (to-from)*share
}

// when is the time of the year at which a change is reached first: that of a month.
func (y *year) when(change measure.Length) float64 {
	nearest := 0
	for k := range y.change {
		if off := y.change[k] - change; max(off, -off) < max(y.change[nearest]-change, change-y.change[nearest]) {
			nearest = k
		}
	}
	return (float64(nearest) + 0.5) / 12
}

// captionOf says what the curve of the chart is.
func (c *chart) captionOf() string {
	if c.year == nil {
		return c.in.Say(caption)
	}
	if c.lag == "1" {
		return c.in.Say(strings.Replace(yearCaption, "days", "day", 1), c.lag, c.damping)
	}
	return c.in.Say(yearCaption, c.lag, c.damping)
}

// seasonTimes are the times of the dry and of the humid season on the chart.
func (c *chart) seasonTimes() (dry, humid float64) {
	if c.year == nil {
		return 0, 0.5
	}
	return c.year.when(c.dry.change), c.year.when(c.humid.change)
}

// initials are those of the months, the same in the languages that papers are written in.
var initials = [12]string{"J", "F", "M", "A", "M", "J", "J", "A", "S", "O", "N", "D"}

// months writes the months below the plot, and draws the bound within it.
func (c *chart) months(x, w float64, a axis) {
	l := pen.Letters{Size: pen.Small, At: pen.Middle}
	bottom := a.top + a.height
	for k := range initials {
		at := x + w*(float64(k)+0.5)/12
		c.Line(at, bottom-1, at, bottom, pen.Stroke{Ink: pen.Faint, Width: pen.Thin})
		c.Text(at, bottom+4, initials[k], l)
	}
	side := pen.Letters{Size: pen.Small, At: pen.Right, Ink: pen.Faint, Halo: true}
	for k, change := range []measure.Length{c.year.bound.Least, c.year.bound.Greatest} {
		y := a.at(change)
		c.Line(x, y, x+w, y, pen.Stroke{Ink: pen.Faint, Width: pen.Medium, Dash: "1.6 1.2"})
		text := c.in.Say("bound %s", c.changeText(&state{change: change}))
		c.Text(x+w-1, y+[]float64{3.4, -1.2}[k], text, side)
	}
}

// percent is a share as a reader sees it.
func percent(share float64) string {
	return strconv.FormatFloat(measure.Round(100*share, 0), 'f', 0, 64) + " %"
}
