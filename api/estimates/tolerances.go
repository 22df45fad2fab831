package estimates

import (
	"seamwright/api/wire"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/seamgap"
)

// walkTolerances walks how far a seam will gape; nothing where nobody asked.
func walkTolerances(f *wire.Fields, at **estimate.Tolerances) {
	if !f.OpenIf("tolerances", *at != nil) {
		return
	}
	if f.Reads() {
		*at = new(estimate.Tolerances)
	}
	t := *at
	wire.Word(f, "reckoned", &t.Reckoned)
	wire.Word(f, "recommended", &t.Best)
	wire.Word(f, "text", &t.Text)
	f.Sized("limit", &t.Limit, measure.Measured)
	f.Amount("recut_cost", &t.Recut)
	wire.List(f, "ways", &t.Ways, walkWayTolerance)
	f.Close()
}

func walkWayTolerance(f *wire.Fields, x *estimate.WayTolerance) {
	f.Open()
	wire.Word(f, "way", &x.Way)
	walkBand(f, "front", &x.Front)
	walkBand(f, "wall", &x.Wall)
	walkBand(f, "drawn", &x.Drawn)
	wire.Word(f, "dominant", &x.Dominant)
	wire.List(f, "errors", &x.Errors, func(f *wire.Fields, e *estimate.ErrorShare) {
		f.Open()
		wire.Word(f, "error", &e.Error)
		f.Length("front", &e.Front)
		f.Length("wall", &e.Wall)
		f.Length("drawn", &e.Drawn)
		f.Close()
	})
	wire.Number(f, "minutes", &x.Minutes, 2)
	f.Amount("labour", &x.Labour)
	percent := 100 * x.Chance
	wire.Number(f, "recut_chance", &percent, 2)
	if f.Reads() {
		x.Chance = percent / 100
	}
	f.Amount("likely_recut", &x.Likely)
	f.Amount("total", &x.Total)
	f.Close()
}

func walkBand(f *wire.Fields, name string, b *seamgap.Band) {
	if !f.OpenAt(name) {
		return
	}
	f.Length("known", &b.Known)
	f.Sized("expected", &b.Expected, measure.Least)
	f.Sized("worst", &b.Worst, measure.Least)
	f.Close()
}
