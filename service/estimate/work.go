package estimate

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/service/price"
	"seamwright/service/source"
	"seamwright/service/spell"
	"seamwright/service/takeoff"
	"seamwright/service/wood"
)

// work is an order with everything looked up and every default taken: what the calculations start from.
type work struct {
	order Order
	cat   *catalogue.Snapshot
	*bench
	ctx   context.Context // whose end stops the work
	set   *catalogue.Settings
	units measure.System
	quiet bool // nothing is told of it: it is priced alone

	series catalogue.SeriesWish // sizes that hardware is chosen in; empty for a part that is asked by itself

	top     plan.Top
	profile measure.Length // depth of the edge profile; 0 for a square edge
	moulded bool           // it is an applied moulding: runs and top are the slabs behind it
	runs    []run
	corners []corner
	cutouts []cutout

	layers  int              // that the slabs are glued up from in their thickness; 1: none on another
	stocks  []*takeoff.Stock // of each run; equal pointers where runs share one
	panels  []*takeoff.PanelStock
	finish  *catalogue.Material // nil: bare wood
	coats   int
	glue    *catalogue.Material // nil: no glue-up
	fixing  *catalogue.Fastener // nil: none
	terms   price.Terms
	hardest measure.Force

	conditioning Conditioning
	crooked      []profiles       // of each run, of edges that are scribed; nil: no wall was told
	left         []profiles       // of edges that are left straight
	together     *Carried         // the joined top on its way; nil: not looked at yet
	lift         hardware.Lift    // where the order asks how its pieces are lifted
	walk         *passage.Walk    // to the place, its defaults taken; nil: not looked at
	passable     []measure.Length // of each run, the longest piece that passes the way; nil: joints are chosen whatever passes
	base         *foundation      // what stands under the runs; nil: not told
	carried      string           // what else would carry the top, as it was told for a strip; empty: not yet

	kept      []plan.Joint   // the only joints that are tried; nil: all
	sketching bool           // wood costs what its size does; no boards are chosen for it
	proposed  bool           // nobody is told what it is refused for
	usual     float64        // what the first top that was sketched costs; 0: none yet
	fromEnd   bool           // the corners are gone through from the chain's end
	reach     measure.Length // of the furthest-reaching part on sale; 0 until it is asked for

	assumptions []Assumption
	warnings    []Warning
	workings    []Working
}

// run is a run with its wood.
type run struct {
	Run
	species  *catalogue.Species
	wet      Moistures
	laws     wood.Laws
	move     Movement
	seasonal *Seasonal // nil: not asked for
	density  float64   // kg/m³ at the making moisture; 0: unknown
}

// corner is a corner with its angle.
type corner struct {
	Corner
	angle       measure.Angle
	sensitivity float64
}

// assume notes a default that was taken.
func (w *work) assume(pointer string, value any, why string) {
	if w.quiet {
		return
	}
	w.assumptions = append(w.assumptions, Assumption{pointer, value, why})
}

// warn notes something that the reader should know.
func (w *work) warn(code string, severity Severity, pointer, text string) {
	if w.quiet {
		return
	}
	w.warnings = append(w.warnings, Warning{code, severity, pointer, text})
}

// cite notes that a source was used.
func (w *work) cite(ids ...source.ID) {
	if w.quiet {
		return
	}
	for _, id := range ids {
		if id != source.None && !contains(w.used, id) {
			w.used = append(w.used, id)
		}
	}
}

// numbered is a text, or a place in the order, that ends with a number.
func numbered(text string, n int) string { return text + strconv.Itoa(n) }

func contains[T comparable](list []T, v T) bool {
	for _, x := range list {
		if x == v {
			return true
		}
	}
	return false
}

// sources are the publications that were used, in the order of the list.
func (w *work) sources() []source.Source {
	return source.Select(func(id source.ID) bool { return contains(w.used, id) })
}

// explain notes a key number, when workings are asked for. The value is the one the formula gave.
func (w *work) explain(name, formula string, value float64, unit string, from source.ID, inputs ...Input) {
	if w.order.Explain {
		w.workings = append(w.workings, Working{name, formula, inputs, value, unit, from})
	}
}

// phraseUp is a least size for a sentence: rounded up.
func (w *work) phraseUp(l measure.Length) string { return l.PhraseAs(w.units, measure.Least) }

// sizeUp is a least size that is measured out, for a sentence: as papers and tables beside it have it.
func (w *work) sizeUp(l measure.Length) string {
	return l.TextAs(w.units, measure.Least) + " " + w.units.String()
}

// phraseDown is the most that a size may be, for a sentence: rounded down.
func (w *work) phraseDown(l measure.Length) string { return l.PhraseAs(w.units, measure.Most) }

func (w *work) phrase(l measure.Length) string { return l.Phrase(w.units) }

func impossible(pointer, detail, fix string) *fault.Fault {
	return &fault.Fault{Kind: fault.Impossible, Pointer: pointer, Detail: detail, Fix: fix}
}

// unknown is the fault of a code that the catalogue does not have; it says which exist that are close.
func unknown(pointer, what, code string, known []string) *fault.Fault {
	f := impossible(pointer, fmt.Sprintf("The %s %q is not in the catalogue.", what, code), "")
	if near := spell.Closest(code, known, 3); len(near) > 0 {
		f.Fix = "Close to it: " + strings.Join(near, ", ") + "."
	} else if len(known) <= 12 {
		f.Fix = "There are: " + strings.Join(known, ", ") + "."
	}
	return f
}

func codes[T any](list []T, code func(*T) string) []string {
	out := make([]string, len(list))
	for i := range list {
		out[i] = code(&list[i])
	}
	return out
}
