package pen

import (
	"math"
	"strconv"
)

// Scale is how many times smaller than life a drawing is: 1 : Scale.
type Scale int

// Scales that are on a rule: metric ones (ISO 5455 has 1, 2, 5 and their tens; 25, 75 and 125 are on scale rules, common
// practice) and those of inches to the foot, which an architect's rule has (common practice).
var (
	metricScales = []Scale{1, 2, 5, 10, 20, 25, 50, 75, 100, 125, 200, 500, 1000}
	footScales   = []Scale{1, 2, 4, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 384, 768}
)

// perFoot is how much of an inch stands for a foot, as it is written on a rule.
var perFoot = map[Scale]string{4: "3", 8: "1-1/2", 12: "1", 16: "3/4", 24: "1/2", 32: "3/8", 48: "1/4", 64: "3/16",
	96: "1/8", 128: "3/32", 192: "1/16"}

// ChooseScale is the largest usual scale at which something of w by h fits into a room on paper, all in millimetres; inches
// takes the scales of inches to the foot.
func ChooseScale(inches bool, w, h, roomW, roomH float64) Scale {
	list := metricScales
	if inches {
		list = footScales
	}
	need := math.Max(w/roomW, h/roomH)
	for _, s := range list {
		if float64(s) >= need {
			return s
		}
	}
	return Scale(math.Ceil(need/1000)) * 1000
}

// Text is the scale in words: "1 : 20", or "1/2 in = 1 ft (1 : 24)".
func (s Scale) Text(inches bool, in Speech) string {
	ratio := "1 : " + strconv.Itoa(int(s))
	if part, known := perFoot[s]; inches && known {
		return in.Say("%s in = 1 ft", part) + " (" + ratio + ")"
	}
	return ratio
}

// Bar is a scale's bar: how long it is on paper, and how long what it stands for.
type Bar struct {
	Paper float64 // millimetres
	Parts int     // into which it is divided
	Of    string  // what it stands for
	Check string  // its length on paper
}

const inch = 25.4

// Bar is a bar of whole lengths in life and on paper, 40 to 80 mm long, so that a rule laid on the paper proves the scale.
func (s Scale) Bar(inches bool, in Speech) Bar {
	if inches {
		for _, paper := range []int{2, 3} {
			switch of := paper * int(s); {
			case of < 12:
				return Bar{float64(paper) * inch, paper, strconv.Itoa(of) + " " + in.Say("in"),
					strconv.Itoa(paper) + " " + in.Say("in")}
			case of%12 == 0:
				parts := of / 12
				for parts > 4 {
					parts /= 2
				}
				return Bar{float64(paper) * inch, max(parts, 2), strconv.Itoa(of/12) + " " + in.Say("ft"),
					strconv.Itoa(paper) + " " + in.Say("in")}
			}
		}
	}
	for _, of := range []int{50, 100, 200, 500, 1000, 2000, 3000, 5000, 10000, 25000, 50000, 100000} {
		paper := float64(of) / float64(s)
		if paper < 40 || paper > 80 || paper != math.Trunc(paper) {
			continue
		}
		length := strconv.Itoa(of) + " mm"
		if of >= 1000 {
			length = strconv.Itoa(of/1000) + " m"
		}
		return Bar{paper, 5, length, strconv.Itoa(int(paper)) + " mm"}
	}
	return Bar{50, 5, in.Number(strconv.FormatFloat(0.05*float64(s), 'f', -1, 64)) + " m", "50 mm"}
}

// ScaleBar draws the bar and returns where it ends. With told, the scale and the bar's length on paper are said beside it, or
// under it when there is no room: only a drawing that is printed at its own size may say them.
func (p *Pen) ScaleBar(x, y, w float64, s Scale, inches, told bool, in Speech) float64 {
	b, small := s.Bar(inches, in), Letters{Size: Small}
	each := b.Paper / float64(b.Parts)
	for i := range b.Parts {
		fill := White
		if i%2 == 0 {
			fill = Ink
		}
		p.Rect(x+float64(i)*each, y, each, 1.6, 0, Stroke{Ink: Ink, Width: Thin, Fill: fill})
	}
	p.Text(x, y+1.6+Small*1.1, "0", small)
	p.Text(x+b.Paper, y+1.6+Small*1.1, b.Of, Letters{Size: Small, At: Middle})
	end := y + 1.6 + Small*1.6
	if !told {
		return end
	}
	at := x + b.Paper + Width(b.Of, small)/2 + 5
	words := in.Say("Scale %s, printed at 100 %%: this bar is then %s long.", s.Text(inches, in), b.Check)
	if room := x + w - at; room > 60 {
		return math.Max(end, p.Paragraph(at, y-1.6, room, words, small))
	}
	return p.Paragraph(x, end, w, words, small)
}
