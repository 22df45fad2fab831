package catalogue

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/measure"
)

func bolt(code string, series Series, least, greatest measure.Length) Fastener {
	return Fastener{Code: code, Kind: DrawBolt, Series: series, LeastThickness: least, GreatestThickness: greatest}
}

// Of each kind the parts of the series are kept, with those that have none; of the other series only what fits where
// none of these does.
func TestASeriesHasItsOwnPartsAndFillsItsGaps(t *testing.T) {
	s := (&Snapshot{Fasteners: []Fastener{
		bolt("inch_thin", Imperial, 19, 38), bolt("inch_thick", Imperial, 38, 0),
		bolt("m_thick", Metric, 45, 0), bolt("m_thin", Metric, 19, 30),
		{Code: "number_10", Kind: PocketScrew, Series: Imperial, LeastThickness: 28},
		{Code: "biscuit", Kind: Biscuit, LeastThickness: 19},
	}}).Index()
	codes := func(wish SeriesWish) (list []string) {
		for _, f := range s.In(wish).Fasteners {
			list = append(list, f.Code)
		}
		return list
	}
	require.Equal(t, []string{"inch_thin", "inch_thick", "number_10", "biscuit"}, codes(SeriesImperial))
	// between 30 and 45 mm there is no metric bolt, and there is no metric screw at all
	require.Equal(t, []string{"inch_thin", "inch_thick", "m_thick", "m_thin", "number_10", "biscuit"}, codes(SeriesMetric))
	require.Same(t, s, s.In(SeriesMetric), "it is all there is")
	require.Same(t, s, s.In(SeriesUsual))
	view := s.In(SeriesImperial)
	require.Nil(t, view.FastenerByCode("m_thin"))
	require.Len(t, view.FastenersOf(DrawBolt), 2)
	require.NotNil(t, s.FastenerByCode("m_thin"), "the catalogue itself keeps it")
	require.Len(t, s.FastenersOf(DrawBolt), 4)
}

// A catalogue from before there were series is the same for every wish.
func TestPartsOfNoSeriesAreInEveryOne(t *testing.T) {
	s := (&Snapshot{Fasteners: []Fastener{bolt("a", AnySeries, 19, 0), {Code: "b", Kind: SlottedScrew}}}).Index()
	for _, wish := range []SeriesWish{SeriesUsual, SeriesMetric, SeriesImperial} {
		require.Same(t, s, s.In(wish))
	}
}
