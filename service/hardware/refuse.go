package hardware

import (
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
)

// refuse returns a fault for a wish that no seam that moves can have: kinds that are refused, or do something else, and
// places that are none.
func refuse(seam *Seam, wish Wish) error {
	var wrong fault.List
	for _, w := range [...]struct {
		kind  catalogue.FastenerKind
		role  catalogue.FastenerRole
		name  string
		fails string
	}{{wish.Pull, catalogue.Pulls, "pull", "pull a seam shut"},
		{wish.Alignment, catalogue.Aligns, "alignment", "keep the faces of a seam level"}} {
		if w.kind == "" || w.kind.Role() == w.role {
			continue
		}
		pointer, fix := "/"+w.name, "Ask for "+oneOf(w.role, kindWord)+", or leave "+w.name+" out."
		if t := w.kind.Traits(); t.Refusal != "" {
			wrong = append(wrong, refused(t, seam, wish, pointer, fix))
		} else {
			wrong = append(wrong, impossible(pointer, string(w.kind)+" does not "+w.fails+".", fix))
		}
	}
	switch wish.HoldAt {
	case HoldAuto, HoldFront, HoldCentre, HoldBack:
	default:
		wrong = append(wrong, impossible("/hold_at", "A seam cannot be held at "+string(wish.HoldAt)+".",
			"Say front, centre or back, or leave hold_at out."))
	}
	return wrong.Err()
}

func impossible(pointer, detail, fix string) *fault.Fault {
	return &fault.Fault{Kind: fault.Impossible, Pointer: pointer, Detail: detail, Fix: fix}
}

// oneOf lists the kinds with a role, each as it is called.
func oneOf(role catalogue.FastenerRole, call func(*catalogue.FastenerTraits) string) string {
	var names []string
	for _, k := range catalogue.FastenerKinds() {
		if k.Role == role {
			names = append(names, call(&k))
		}
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " or " + names[last]
}

func kindWord(k *catalogue.FastenerTraits) string { return string(k.Kind) }

func kindName(k *catalogue.FastenerTraits) string { return k.Name }

// refused says why parts of a kind cannot stand in this seam, with the slip at its ends.
func refused(kind *catalogue.FastenerTraits, seam *Seam, wish Wish, pointer, fix string) *fault.Fault {
	held := wish.HoldAt.Point(seam.Length)
	w := sentence{units: seam.Units}
	w.text(strings.ToUpper(kind.Plural[:1])+kind.Plural[1:], " are refused in a seam that must move: ", kind.Refusal, ", ")
	if seam.SlipRate > 0 {
		w.text("and this seam, ", wish.HoldAt.phrase(), ", slips up to ").length(Slip(seam.SlipRate, 0, held))
		w.text(" at its front end and ").length(Slip(seam.SlipRate, seam.Length, held)).text(" at its wall end.")
	} else {
		w.text("and although the two sides of this seam grow alike (its ends slip 0), it opens and closes with the seasons, which tight ", kind.Plural, " would resist until the wood splits.")
	}
	return impossible(pointer, w.String(), fix)
}
