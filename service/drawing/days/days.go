// Package days draws the labour steps as bars over the working days, with their waits.
package days

import (
	"math"
	"strconv"

	"seamwright/service/drawing/pen"
	"seamwright/service/labour"
)

// Options say how the chart is drawn.
type Options struct {
	Width, Height float64 // of the paper, in millimetres; a chart that is higher is drawn on several
	ID            string  // begins its identifiers
	Speech        pen.Speech
}

// Sizes in millimetres of paper.
const (
	names = 72.0
	line  = 3.5
	top   = 9.0
	below = 11.0
	// hours is the working day that bars are drawn to; a step's day itself is reckoned with the shop's own hours.
	hours = 8.0
)

// chart is a chart being drawn.
type chart struct {
	pen.Pen
	Options
	plan  *labour.Plan
	days  int
	scale float64
	began map[int]float64 // how much of a day earlier steps take
}

// Draw returns the chart as SVG documents, one after the other.
func Draw(plan *labour.Plan, o Options) (pictures [][]byte) {
	c := &chart{Options: o, plan: plan, days: max(plan.WorkingDays, 1), began: map[int]float64{}}
	if plan.NoPromise != "" {
		for i := range plan.Steps {
			c.days = max(c.days, plan.Steps[i].Day)
		}
	}
	c.scale = (o.Width - names - 1) / float64(c.days)
	room := c.evened()
	for from := 0; from < len(plan.Steps) || from == 0; {
		to, high := c.fill(from, room)
		if to == len(plan.Steps) {
			high += below
		}
		pictures = append(pictures, c.part(from, to, high))
		if from = to; from == 0 {
			break // no steps at all
		}
	}
	return pictures
}

// fill is up to which step, from one on, a part of a height reaches, and how high it is without its key.
func (c *chart) fill(from int, room float64) (to int, high float64) {
	to, high = from, top
	for to < len(c.plan.Steps) && (to == from || high+c.high(to)+below <= room) {
		high += c.high(to)
		to++
	}
	return to, high
}

// evened is the least height of a part with which the chart has no more parts: no step or two stand alone on the last.
func (c *chart) evened() float64 {
	parts := func(room float64) (n int) {
		for from := 0; from < len(c.plan.Steps); n++ {
			from, _ = c.fill(from, room)
		}
		return n
	}
	fewest, room := parts(c.Height), c.Height
	for room > 2*top && parts(room-1) == fewest {
		room--
	}
	return room
}

func (c *chart) say(english string, values ...any) string { return c.Speech.Say(english, values...) }

func (c *chart) letters(i int) pen.Letters {
	return pen.Letters{Size: pen.Small, Bold: c.plan.Steps[i].Critical}
}

// lines are a step's name, whole.
func (c *chart) lines(i int) []string {
	return pen.Wrap(c.Speech.Told(c.plan.Steps[i].Name), names-11, c.letters(i))
}

func (c *chart) high(i int) float64 { return float64(len(c.lines(i)))*line + 1 }

// part draws the steps from one to before another.
func (c *chart) part(from, to int, high float64) []byte {
	c.Reset()
	bottom := high
	if to == len(c.plan.Steps) {
		bottom -= below
	}
	c.grid(bottom)
	y := top
	for i := from; i < to; i++ {
		s := &c.plan.Steps[i]
		c.Text(7, y+line*0.8, strconv.Itoa(s.Number), pen.Letters{Size: pen.Small, At: pen.Right})
		for k, words := range c.lines(i) {
			c.Text(9, y+line*(0.8+float64(k)), words, c.letters(i))
		}
		takes := s.Minutes.Expected / 60 / hours
		start := float64(s.Day-1) + math.Min(c.began[s.Day], 0.95)
		c.began[s.Day] += takes
		c.bar(s, names+start*c.scale, math.Max(takes*c.scale, 0.8), y)
		y += c.high(i)
	}
	about := c.about()
	if to == len(c.plan.Steps) {
		c.key(bottom)
	}
	id := c.ID
	if from > 0 {
		id += "-" + strconv.Itoa(from+1)
	}
	return c.Document(c.Width, high, id, c.say("The work over the days"), about)
}

// key says under the last part how the bars are meant.
func (c *chart) key(y float64) {
	y = c.Paragraph(0, y, c.Width,
		c.say("Filled: work. Framed and hatched: waiting. Bold: the longest chain. Drawn to days of 8 hours."),
		pen.Letters{Size: pen.Small, Ink: pen.Faint})
	if c.plan.NoPromise != "" {
		c.Paragraph(0, y, c.Width, c.say("No days are promised: the wood must rest first."),
			pen.Letters{Size: pen.Small, Bold: true})
	}
}

func (c *chart) about() string {
	if c.plan.NoPromise != "" {
		return c.say("%s steps.", strconv.Itoa(len(c.plan.Steps))) + " " + c.Speech.Told(c.plan.NoPromise)
	}
	return c.Speech.Count(c.days, "%s steps over %s working day.", "%s steps over %s working days.", strconv.Itoa(len(c.plan.Steps)), strconv.Itoa(c.days))
}

// grid draws the beginnings of the days; of so many that their lines would be a grey only those that are named.
func (c *chart) grid(bottom float64) {
	const apart = 1.5 // millimetres between lines, at least
	small := pen.Letters{Size: pen.Small, Ink: pen.Faint}
	widest := pen.Width(c.say("day %s", strconv.Itoa(c.days)), small)
	every := 1
	for float64(every)*c.scale < widest+2 {
		every++
	}
	for d := range c.days + 1 {
		x, named := names+float64(d)*c.scale, d%every == 0
		if named || c.scale >= apart || d == c.days {
			c.Line(x, top-2, x, bottom, pen.Stroke{Ink: pen.Pale, Width: pen.Thin})
		}
		if words := c.say("day %s", strconv.Itoa(d+1)); d < c.days && named && x+0.8+pen.Width(words, small) < c.Width {
			c.Text(x+0.8, top-3, words, small)
		}
	}
}

func (c *chart) bar(s *labour.Step, x, w, y float64) {
	const high = 3.1
	edge := c.Width - 1
	w = math.Min(w, edge-x)
	if s.WaitHours > 0 {
		wait := math.Min(s.WaitHours/24*c.scale, edge-x-w)
		if wait > 0.3 {
			c.Rect(x+w, y+0.6, wait, high-0.6, 0, pen.Stroke{Ink: pen.Faint, Width: pen.Thin, Fill: pen.White})
			for at := x + w; at < x+w+wait; at += 1.6 {
				end := math.Min(at+high-0.6, x+w+wait)
				c.Line(at, y+high, end, y+high-(end-at), pen.Stroke{Ink: pen.Pale, Width: pen.Thin})
			}
		}
	}
	c.Rect(x, y+0.3, w, high, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Thin, Fill: pen.Ink})
}
