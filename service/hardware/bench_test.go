package hardware_test

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/store/demotest"
)

func BenchmarkChoose(b *testing.B) {
	still := studioButt()
	still.SlipRate = 0.001
	uneven := studioMiter()
	uneven.Blocked = []hardware.Interval{{From: 330, To: 400}, {From: 560, To: 600}}
	long := studioMiter()
	long.Length = 2500
	crowded := long
	crowded.Blocked = []hardware.Interval{{From: 230, To: 500}}
	short := studioButt()
	short.Length = 100 * measure.Millimetre
	for _, bb := range []struct {
		name string
		seam hardware.Seam
		wish hardware.Wish
	}{
		{"miter", studioMiter(), hardware.Wish{}},
		{"butt that hardly moves", still, hardware.Wish{}},
		{"butt by heavier screws", studioButt(), hardware.Wish{}},
		{"butt by bolts", studioButt(), hardware.Wish{Pull: catalogue.DrawBolt}},
		{"butt mixed", studioButt(), hardware.Wish{HoldAt: hardware.HoldFront}},
		{"long miter", long, hardware.Wish{}},
		{"uneven openings", uneven, hardware.Wish{}},
		{"long without room", crowded, hardware.Wish{}},
		{"short without room", short, hardware.Wish{}},
	} {
		b.Run(bb.name, func(b *testing.B) {
			cat := fullShop(b)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := hardware.Choose(bb.seam, bb.wish, cat); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkSeams chooses for all the seams that one estimate asks for, with a chooser that is kept: of a corner desk of
// one wood, and of a bar of two woods and depths.
func BenchmarkSeams(b *testing.B) {
	cat := demotest.Catalogue(b)
	for _, name := range []string{"desk", "bar"} {
		var asked []struct {
			Seam hardware.Seam
			Wish hardware.Wish
		}
		text, err := os.ReadFile("testdata/seams_" + name + ".json")
		require.NoError(b, err)
		require.NoError(b, json.Unmarshal(text, &asked))
		b.Run(name, func(b *testing.B) {
			chooser := hardware.NewChooser(cat)
			b.ReportAllocs()
			for b.Loop() {
				for i := range asked {
					if _, err := chooser.Choose(asked[i].Seam, asked[i].Wish); err != nil {
						b.Fatal(err)
					}
				}
			}
		})
	}
}
