package hardware

import (
	"seamwright/service/catalogue"
	"seamwright/service/fault"
)

// refuse returns a fault for a wish that no seam that moves can have: dowels, or kinds and places that are none.
func refuse(seam *Seam, wish Wish) error {
	var wrong fault.List
	switch wish.Pull {
	case "", catalogue.PocketScrew, catalogue.DrawBolt:
	case catalogue.Dowel:
		wrong = append(wrong, dowels(seam, wish, "/pull", "Ask for pocket_screw or draw_bolt, or leave pull out."))
	case catalogue.Biscuit, catalogue.LooseTenon, catalogue.SlottedClip, catalogue.SlottedScrew:
		fallthrough
	default:
		wrong = append(wrong, impossible("/pull", string(wish.Pull)+" does not pull a seam shut.", "Ask for pocket_screw or draw_bolt, or leave pull out."))
	}
	switch wish.Alignment {
	case "", catalogue.Biscuit, catalogue.LooseTenon:
	case catalogue.Dowel:
		wrong = append(wrong, dowels(seam, wish, "/alignment", "Ask for biscuit or loose_tenon, or leave alignment out."))
	case catalogue.PocketScrew, catalogue.DrawBolt, catalogue.SlottedClip, catalogue.SlottedScrew:
		fallthrough
	default:
		wrong = append(wrong, impossible("/alignment", string(wish.Alignment)+" does not keep the faces of a seam level.", "Ask for biscuit or loose_tenon, or leave alignment out."))
	}
	switch wish.HoldAt {
	case HoldAuto, HoldFront, HoldCentre, HoldBack:
	default:
		wrong = append(wrong, impossible("/hold_at", "A seam cannot be held at "+string(wish.HoldAt)+".", "Say front, centre or back, or leave hold_at out."))
	}
	return wrong.Err()
}

func impossible(pointer, detail, fix string) *fault.Fault {
	return &fault.Fault{Kind: fault.Impossible, Pointer: pointer, Detail: detail, Fix: fix}
}

// dowels says why dowels cannot stand in this seam, with the slip at its ends.
func dowels(seam *Seam, wish Wish, pointer, fix string) *fault.Fault {
	held := wish.HoldAt.Point(seam.Length)
	w := sentence{units: seam.Units}
	w.text("Dowels are refused in a seam that must move: a round hole gives no side room, ")
	if seam.SlipRate > 0 {
		w.text("and this seam, ", wish.HoldAt.phrase(), ", slips up to ").length(Slip(seam.SlipRate, 0, held))
		w.text(" at its front end and ").length(Slip(seam.SlipRate, seam.Length, held)).text(" at its wall end.")
	} else {
		w.text("and although the two sides of this seam grow alike (its ends slip 0), it opens and closes with the seasons, which tight dowels would resist until the wood splits.")
	}
	return impossible(pointer, w.String(), fix)
}
