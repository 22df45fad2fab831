package saw

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/store/storetest"
	"seamwright/store/storetest/drawtest"
)

// Blocks under a slab are numbered behind its staves: their labels count blocks, and no stave is "10 of 9".
func TestLabelsOfABuiltUpSlabCountItsBlocksByThemselves(t *testing.T) {
	o := drawtest.Desk()
	o.Top.Thickness, o.Top.Build = 3*measure.Inch, estimate.BuiltUp
	e, err := estimate.Make(o, storetest.Demo(t))
	require.NoError(t, err)
	sheets, err := Labels(e, LabelOptions{Width: 210, Height: 297, Job: "job"})
	require.NoError(t, err)
	said := ""
	for _, sheet := range sheets {
		said += string(sheet)
	}
	for i := range e.Runs {
		b := &e.Runs[i].Blank
		require.Positive(t, b.BlockCount())
		staves, blocks := strconv.Itoa(b.Parts()), strconv.Itoa(b.BlockCount())
		require.Contains(t, said, ">"+staves+" of "+staves+", counted from the front<")
		require.Contains(t, said, ">block "+blocks+" of "+blocks+" under the slab<")
		require.NotContains(t, said, ">"+strconv.Itoa(b.Parts()+1)+" of "+staves+",")
	}
	count := 0
	for i := range e.Runs {
		count += e.Runs[i].Blank.BlockCount()
	}
	require.Equal(t, count, strings.Count(said, " under the slab<"))
}
