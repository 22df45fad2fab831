package passage

import (
	"fmt"
	"strings"

	"seamwright/service/fault"
	"seamwright/service/measure"
)

// Bounds of a turn's angle: beyond, walls lie almost along each other, and what is one corridor is no turn.
const (
	LeastAngle = 10 * measure.Degree
	MostAngle  = 179 * measure.Degree
)

// LeastClear is the least clear size of a step: less lets no hand pass with the piece, and is no door, corridor or car but a slip of the
// pen or a size in another unit (32 by 80 in sent as millimetres).
//
// Common practice.
const LeastClear = 100 * measure.Millimetre

// MostSteps is how many steps a way may have.
const MostSteps = 50

// size is a measure of a step by its name in a request.
type size struct {
	name string
	of   func(*Step) *measure.Length
}

var sizes = []size{
	{"width", func(s *Step) *measure.Length { return &s.Width }},
	{"depth", func(s *Step) *measure.Length { return &s.Depth }},
	{"height", func(s *Step) *measure.Length { return &s.Height }},
	{"first", func(s *Step) *measure.Length { return &s.First }},
	{"second", func(s *Step) *measure.Length { return &s.Second }},
	{"door_width", func(s *Step) *measure.Length { return &s.DoorWidth }},
	{"door_height", func(s *Step) *measure.Length { return &s.DoorHeight }},
}

// asked are the measures that a kind of step must have, and those that it may have.
var asked = map[Kind]struct{ must, may []string }{
	Door: {[]string{"width", "height"}, nil},
	Turn: {[]string{"first", "second"}, []string{"height"}},
	Lift: {[]string{"width", "depth", "height"}, []string{"door_width", "door_height"}},
}

// Check says what is wrong with a way, all of it: pointers begin with the step's number.
func Check(way []Step, units measure.System) error {
	var wrong fault.List
	for i := range way {
		wrong.Add("", fault.At(fmt.Sprintf("/%d", i), way[i].check(units)))
	}
	return wrong.Err()
}

func (s *Step) check(units measure.System) error {
	var wrong fault.List
	kind := asked[s.Kind]
	for _, z := range sizes {
		given := *z.of(s) != 0
		switch must := has(kind.must, z.name); {
		case must && !given:
			wrong = append(wrong, &fault.Fault{Kind: fault.Invalid, Pointer: "/" + z.name,
				Detail: fmt.Sprintf("A %s needs its clear %s.", s.Kind, strings.Join(kind.must, ", "))})
		case given && !must && !has(kind.may, z.name):
			wrong = append(wrong, &fault.Fault{Kind: fault.Invalid, Pointer: "/" + z.name,
				Detail: fmt.Sprintf("A %s has no %s.", s.Kind, z.name)})
		case given && *z.of(s) < LeastClear:
			wrong = append(wrong, &fault.Fault{Kind: fault.Impossible, Pointer: "/" + z.name,
				Detail: fmt.Sprintf("A %s with a clear size of %s here lets no hand pass with the piece; the least is %s.", s.Kind,
					z.of(s).Phrase(units), LeastClear.PhraseAs(units, measure.Least)),
				Fix: fmt.Sprintf("Check the size and its unit: without one it is read in %q.", units.String())})
		}
	}
	if s.Kind != Turn && s.Angle != 0 {
		wrong = append(wrong, &fault.Fault{Kind: fault.Invalid, Pointer: "/angle",
			Detail: fmt.Sprintf("A %s has no angle.", s.Kind)})
	}
	if s.Kind == Turn && s.Angle != 0 && (s.Angle < LeastAngle || s.Angle > MostAngle) {
		wrong = append(wrong, &fault.Fault{Kind: fault.Impossible, Pointer: "/angle",
			Detail: fmt.Sprintf("Corridors meet at %g° to %g°, not at %s°: 90° is a square turn, 180° would be straight on.",
				LeastAngle.Degrees(), MostAngle.Degrees(), s.Angle.Text())})
	}
	if s.Kind == Lift {
		wrong = append(wrong, s.doorInCar("door_width", s.DoorWidth, s.Width, units)...)
		wrong = append(wrong, s.doorInCar("door_height", s.DoorHeight, s.Height, units)...)
	}
	return wrong.Err()
}

func (s *Step) doorInCar(name string, door, car measure.Length, units measure.System) fault.List {
	if car == 0 || door <= car {
		return nil
	}
	return fault.List{{Kind: fault.Impossible, Pointer: "/" + name,
		Detail: fmt.Sprintf("The door of a lift (%s) is no larger than its car (%s).", door.Phrase(units), car.Phrase(units))}}
}

func has(list []string, name string) bool {
	for _, n := range list {
		if n == name {
			return true
		}
	}
	return false
}

// Lessened is a step whose clear widths and heights are less by a clearance, for hands and blankets. None becomes
// less than nothing.
func (s Step) Lessened(clearance measure.Length) Step {
	for _, z := range sizes {
		if l := z.of(&s); *l > 0 {
			*l = max(measure.Millimetre/1000, *l-clearance)
		}
	}
	return s
}
