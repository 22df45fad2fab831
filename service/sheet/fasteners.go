package sheet

import (
	"math"
	"slices"
	"strings"

	"seamwright/service/catalogue"
)

// form is what is asked of the measures of fasteners of one form: those that each must have, those that it may have
// besides, and what none may contradict.
type form struct {
	must, may []string
	check     func(*checker)
}

// forms has a row for each that stands in a seam. The working load of a draw bolt is its maker's.
var forms = map[catalogue.FastenerForm]*form{
	catalogue.LetIn: {must: []string{"width_mm", "length_mm", "thickness_mm", "least_thickness_mm"},
		may:   []string{"greatest_thickness_mm"},
		check: (*checker).letIn},
	catalogue.Pocketed: {must: []string{"length_mm", "thread_diameter_mm", "head_diameter_mm", "bore_diameter_mm",
		"penetration_mm", "least_thickness_mm"},
		may: []string{"washer_diameter_mm", "greatest_thickness_mm"}, check: (*checker).pocketScrew},
	catalogue.Recessed: {must: []string{"length_mm", "bolt_diameter_mm", "recess_diameter_mm", "recess_depth_mm",
		"recess_distance_mm", "bearing_diameter_mm", "least_thickness_mm", "working_load_n"},
		may: []string{"greatest_thickness_mm"}, check: (*checker).bolt},
}

// unders has a row for each that stands under a top.
var unders = map[catalogue.UnderForm]*form{
	catalogue.Upright: {must: []string{"length_mm", "thread_diameter_mm", "head_diameter_mm", "penetration_mm",
		"least_thickness_mm"},
		may: []string{"washer_diameter_mm", "greatest_thickness_mm"}, check: (*checker).uprightScrew},
	catalogue.Clipped: {may: []string{"width_mm", "length_mm", "thickness_mm", "least_thickness_mm",
		"greatest_thickness_mm"},
		check: (*checker).clip},
	catalogue.Inserted: {must: []string{"length_mm", "thread_diameter_mm", "head_diameter_mm", "bore_diameter_mm",
		"penetration_mm", "least_thickness_mm"},
		may: []string{"washer_diameter_mm", "greatest_thickness_mm"}, check: (*checker).insert},
	catalogue.Arm:  {must: []string{"width_mm", "length_mm", "working_load_n"}, check: func(*checker) {}},
	catalogue.Post: {must: []string{"width_mm", "length_mm", "working_load_n"}, check: func(*checker) {}},
}

// clip: what it lets the wood go comes of its length, where it has no slot.
func (k *checker) clip() {
	if catalogue.FastenerKind(k.get("kind")).Traits().Travel != nil && k.get("length_mm") == "" {
		k.add("length_mm", "Must not be empty for the kind %s.", k.get("kind"))
	}
}

// formOf is the row of a kind; of what is none an empty one.
func formOf(kind string) *form {
	k := catalogue.FastenerKind(kind)
	if f := forms[k.Form()]; f != nil {
		return f
	}
	if f := unders[k.Under()]; f != nil {
		return f
	}
	return &form{check: func(*checker) {}}
}

// fastener: the measures of its kind, and none that contradict each other.
func (k *checker) fastener() {
	kind := k.get("kind")
	of := formOf(kind)
	whole := true
	for _, name := range measures() {
		switch there := k.get(name) != ""; {
		case !there && slices.Contains(of.must, name):
			k.add(name, "Must not be empty for the kind %s.", kind)
			whole = false
		case there && !slices.Contains(of.must, name) && !slices.Contains(of.may, name):
			k.add(name, "The kind %s has no such measure; it has %s.", kind, strings.Join(slices.Concat(of.must, of.may), ", "))
		}
	}
	if catalogue.FastenerKind(kind).Form() != catalogue.Pocketed && k.get("may_mix_with_bolts") == "true" {
		k.add("may_mix_with_bolts", "Only pocket screws mix with bolts.")
	}
	if greatest := k.number("greatest_thickness_mm"); greatest > 0 && greatest <= k.number("least_thickness_mm") {
		k.add("greatest_thickness_mm", "Must be more than the least thickness.")
	}
	if !whole {
		return
	}
	of.check(k)
}

func (k *checker) letIn() {
	k.less("thickness_mm", "least_thickness_mm", "the least thickness of the top: the part would not fit into it")
}

// less checks that one measure is less than another.
func (k *checker) less(column, than, what string) {
	if k.number(column) >= k.number(than) {
		k.add(column, "Is %s mm; it must be less than %s (%s mm).", k.get(column), what, k.get(than))
	}
}

// pocketAngle is the slope at which pockets are bored, 15 degrees from the face. Common practice.
const pocketAngle = 15 * math.Pi / 180

// screw: what holds for any.
func (k *checker) screw() {
	k.less("penetration_mm", "length_mm", "the whole length")
	k.less("thread_diameter_mm", "head_diameter_mm", "the head")
	k.washer()
}

// washer: what bears is the larger of head and washer.
func (k *checker) washer() {
	if washer := k.number("washer_diameter_mm"); washer > k.number("head_diameter_mm") {
		k.add("washer_diameter_mm", "Must not be more than the head's diameter, which is that of the washer when the washer is larger.")
	}
}

// uprightScrew: it stands upright in the top and must not come through it.
func (k *checker) uprightScrew() {
	k.screw()
	k.less("penetration_mm", "least_thickness_mm", "the least thickness of the top: the screw would come through")
}

// insert: a bush around the machine screw's thread, in a bore that holds all of it and does not come through the top.
func (k *checker) insert() {
	k.less("thread_diameter_mm", "bore_diameter_mm", "the bore: the insert goes between them")
	k.less("thread_diameter_mm", "head_diameter_mm", "the screw's head")
	k.less("penetration_mm", "least_thickness_mm", "the least thickness of the top: the bore would come through")
	if k.number("length_mm") > k.number("penetration_mm") {
		k.add("length_mm", "Must not be more than the bore's depth, penetration_mm (%s mm): the insert would stand out of the top.", k.get("penetration_mm"))
	}
	k.washer()
}

// pocketScrew: it leaves the edge at half the thickness and climbs at the angle of its pocket (common practice).
func (k *checker) pocketScrew() {
	k.screw()
	if k.number("bore_diameter_mm") < k.number("head_diameter_mm") {
		k.add("bore_diameter_mm", "Must be at least the head's diameter: the head goes into the pocket.")
	}
	if climb := k.number("penetration_mm") * math.Sin(pocketAngle); climb >= k.number("least_thickness_mm")/2 {
		k.add("penetration_mm", "At the pocket's 15 degrees the screw climbs %.1f mm from the middle of the edge and would come through a top of the least thickness (%s mm).", climb, k.get("least_thickness_mm"))
	}
}

// bolt: recesses that hold what bears, with wood left above them.
func (k *checker) bolt() {
	k.less("bolt_diameter_mm", "bearing_diameter_mm", "what bears")
	if k.number("recess_diameter_mm") < k.number("bearing_diameter_mm") {
		k.add("recess_diameter_mm", "Must be at least the diameter of what bears in it.")
	}
	if k.number("recess_distance_mm") <= k.number("recess_diameter_mm")/2 {
		k.add("recess_distance_mm", "Must be more than half the recess's diameter: the recess would break into the seam.")
	}
	if k.number("length_mm") < 2*k.number("recess_distance_mm") {
		k.add("length_mm", "Must be at least twice the recess's distance from the seam: the bolt reaches from recess to recess.")
	}
	above := parse(k.known.Settings["wood_above_recess"])
	if need := k.number("recess_depth_mm") + above; k.number("least_thickness_mm") < need-1e-6 {
		k.add("least_thickness_mm", "Must be at least %s mm: the recess's depth and %s mm of wood above it (setting wood_above_recess).", plain(math.Round(need*1e4)/1e4), plain(above))
	}
}
