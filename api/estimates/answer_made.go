package estimates

import (
	"seamwright/api/wire"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/takeoff"
)

func walkMade(f *wire.Fields, m *estimate.Made) {
	if !f.OpenAt("top") {
		return
	}
	f.Made("thickness", &m.Thickness)
	wire.Word(f, "construction", &m.Construction)
	walkLayers(f, &m.Layers, &m.Layer)
	if m.Layers > 0 {
		if f.Reads() && !f.Has("build") {
			m.Build = estimate.Laminated // kept from before it was told
		} else {
			wire.Word(f, "build", &m.Build)
		}
	}
	wire.Word(f, "hand", &m.Hand)
	if f.OpenAt("edge") {
		wire.Word(f, "profile", &m.Profile)
		f.Made("size", &m.ProfileSize)
		f.Bool("square_ends", &m.SquareEnds)
		f.MadeOrNull("moulding", &m.Moulding)
		f.Close()
	}
	if f.OpenAt("finish") {
		wire.Word(f, "system", &m.Finish)
		wire.WordOrNull(f, "name", &m.FinishName)
		wire.Int(f, "coats", &m.Coats)
		wire.NumberOrNull(f, "cure_days", &m.CureDays, 2)
		wire.Word(f, "faces", &m.Faces)
		f.Close()
	}
	f.Close()
}

// walkEndJoints walks how staves are joined end to end; left out where they are whole.
func walkEndJoints(f *wire.Fields, b *estimate.Blank) {
	j := &b.Joined
	if !f.OpenIf("end_joints", j.Count > 0) {
		return
	}
	n := min(j.Count, len(j.Parts))
	parts, places := j.Parts[:n], j.Places[:max(0, n-1)]
	if f.Reads() {
		parts, places = nil, nil
	}
	f.MadeAll("parts", &parts)
	f.MadeAll("places", &places)
	if f.Reads() {
		j.Count = copy(j.Parts[:], parts)
		copy(j.Places[:], places)
	}
	count := b.EndJoints()
	wire.Int(f, "count", &count)
	f.Close()
}

// walkBuilds walks how else the top could come to its thickness; left out where there is stock for it.
func walkBuilds(f *wire.Fields, builds *[]estimate.BuildWay) {
	if f.Reads() && !f.Has("builds") || !f.Reads() && len(*builds) == 0 {
		return
	}
	wire.List(f, "builds", builds, func(f *wire.Fields, b *estimate.BuildWay) {
		f.Open()
		wire.Word(f, "build", &b.Build)
		f.Amount("cost_difference", &b.Cost)
		f.Amount("total_difference", &b.Total)
		wire.WordOrNull(f, "fault", &b.Fault)
		wire.Word(f, "text", &b.Text)
		f.Close()
	})
}

// walkUnder walks the strips and blocks under a slab with a built-up edge; left out where there are none.
func walkUnder(f *wire.Fields, u *takeoff.Under) {
	if !f.OpenIf("build_up", u.Count > 0) {
		return
	}
	f.Made("front_strip", &u.Front)
	f.Made("wall_strip", &u.Wall)
	wire.Int(f, "strip_staves", &u.Strips)
	wire.Int(f, "blocks_across", &u.Across)
	blocks := u.Fields()
	if f.Reads() {
		blocks = nil
	}
	f.MadeAll("block_lengths", &blocks)
	if f.Reads() {
		u.Count = copy(u.Blocks[:], blocks)
	}
	f.Close()
}

// walkHollows walks where nothing lies under a slab with a built-up edge; left out where there is no such place.
func walkHollows(f *wire.Fields, hollows *[]estimate.Hollow) {
	if f.Reads() && !f.Has("hollows") || !f.Reads() && len(*hollows) == 0 {
		return
	}
	wire.List(f, "hollows", hollows, func(f *wire.Fields, h *estimate.Hollow) {
		f.Open()
		f.Made("from", &h.From)
		f.Made("to", &h.To)
		f.Made("from_front", &h.Front)
		f.Made("to_back", &h.Back)
		f.Close()
	})
}

// walkLayers walks the layers that are glued on each other; left out where there is one.
func walkLayers(f *wire.Fields, layers *int, thickness *measure.Length) {
	if f.Reads() && !f.Has("layers") || !f.Reads() && *layers == 0 {
		return
	}
	wire.Int(f, "layers", layers)
	f.Made("layer_thickness", thickness)
}

// walkPartOf walks which piece of a run one is; left out where the run is whole.
func walkPartOf(f *wire.Fields, part **estimate.PartOf) {
	if !f.OpenIf("part_of", *part != nil) {
		return
	}
	if f.Reads() {
		*part = new(estimate.PartOf)
	}
	p := *part
	wire.Word(f, "run", &p.Run)
	wire.Int(f, "number", &p.Number)
	wire.Int(f, "count", &p.Count)
	f.Made("from", &p.From)
	f.Made("to", &p.To)
	f.Close()
}

// walkInLine walks where a seam lies in its run; left out at a corner.
func walkInLine(f *wire.Fields, seam **estimate.InLineSeam) {
	if !f.OpenIf("straight_seam", *seam != nil) {
		return
	}
	if f.Reads() {
		*seam = new(estimate.InLineSeam)
	}
	s := *seam
	wire.Word(f, "run", &s.Run)
	f.Made("at", &s.At)
	wire.Word(f, "reason", &s.Reason)
	f.Close()
}

func walkPiece(f *wire.Fields, p *estimate.Piece) {
	if !f.OpenAt("piece") {
		return
	}
	f.Made("long_edge", &p.LongEdge)
	f.Made("short_edge", &p.ShortEdge)
	f.Made("wall_edge", &p.WallEdge)
	f.Made("front_edge", &p.FrontEdge)
	f.Angle("start_angle", &p.StartAngle)
	f.Angle("end_angle", &p.EndAngle)
	f.Area("area", &p.Area)
	walkPoints(f, "outline", &p.Outline)
	if p.Scribed != nil || f.Reads() && f.Has("scribed") {
		walkPoints(f, "scribed", &p.Scribed)
	}
	walkHollows(f, &p.Hollows)
	f.Mass("weight", &p.Mass)
	f.Close()
}

func walkBlank(f *wire.Fields, b *estimate.Blank) {
	if !f.OpenAt("blank") {
		return
	}
	f.Made("length", &b.Length)
	f.Made("width", &b.Width)
	f.Made("thickness", &b.Thickness)
	f.MadeOrNull("rough_thickness", &b.Rough)
	walkLayers(f, &b.Layers, &b.Layer)
	walkUnder(f, &b.Under)
	wire.Int(f, "staves", &b.Staves)
	f.MadeOrNull("stave_width", &b.StaveRip)
	f.MadeOrNull("stave_finished", &b.StaveWidth)
	f.MadeOrNull("stave_length", &b.StaveLength)
	wire.Number(f, "board_feet", &b.BoardFeet, 2)
	walkEndJoints(f, b)
	f.Close()
}
