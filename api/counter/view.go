package counter

import (
	"slices"
	"strconv"

	"seamwright/service/drawing/pen"
	"seamwright/service/drawing/view"
	"seamwright/service/estimate"
)

// viewOf draws the top as one sees it from the room, its sides by the customer's numbers. What cannot be drawn has no view.
func viewOf(est *estimate.Estimate, speech pen.Speech) string {
	e := *est
	e.Reference, e.Runs, e.Cutouts = "", slices.Clone(est.Runs), slices.Clone(est.Cutouts)
	for i := range e.Runs {
		for k := range e.Cutouts {
			if est.Cutouts[k].Run == est.Runs[i].Name {
				e.Cutouts[k].Run = strconv.Itoa(i + 1)
			}
		}
		e.Runs[i].Name = strconv.Itoa(i + 1)
	}
	picture, err := view.Draw(&e, view.Options{Speech: speech})
	if err != nil {
		return ""
	}
	return string(picture)
}
