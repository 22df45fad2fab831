package estimates

import (
	"seamwright/api/wire"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/scribe"
)

func readWall(o *wire.Object) estimate.WallOrder {
	scribed := o.Choice("scribe")
	return estimate.WallOrder{
		Left: scribed != nil && !*scribed,
		Run:  o.Line("run"),
		Edge: o.Text("edge"),
		Offsets: wire.Each(o.Children("offsets"), func(o *wire.Object) scribe.Offset {
			at, _ := o.Distance("at")
			return scribe.Offset{At: at, Off: o.Signed("offset")}
		}),
	}
}

// walkWalls walks what the walls of a run ask of its piece; nothing where none was told.
func walkWalls(f *wire.Fields, all *[]estimate.Crooked) {
	if *all == nil && (!f.Reads() || !f.Has("walls")) {
		return
	}
	wire.List(f, "walls", all, func(f *wire.Fields, c *estimate.Crooked) {
		f.Open()
		wire.Word(f, "edge", &c.Edge)
		if c.WallOf != "" || f.Reads() {
			wire.Word(f, "wall_of", &c.WallOf)
		}
		f.Made("length", &c.Length)
		f.Angle("slope", &c.Slope)
		f.Sized("greatest", &c.Greatest, measure.Least)
		wire.List(f, "stations", &c.Stations, func(f *wire.Fields, s *scribe.Station) {
			f.Open()
			f.Made("at", &s.At)
			f.Length("offset", &s.Off)
			f.Made("remove", &s.Remove)
			f.Close()
		})
		if f.OpenAt("gap") {
			f.Length("scribed", &c.Scribed)
			f.Length("least", &c.Least)
			f.Length("most", &c.Most)
			f.Close()
		}
		scribed := !c.Left
		if f.Bool("scribe", &scribed); f.Reads() {
			c.Left = !scribed && f.Has("scribe")
		}
		wire.WordOrNull(f, "cover", &c.Cover)
		wire.Word(f, "text", &c.Text)
		f.Close()
	})
}
