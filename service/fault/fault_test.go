package fault_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"seamwright/service/fault"
)

var (
	width = &fault.Fault{Kind: fault.Invalid, Pointer: "/depth", Detail: "The depth is missing."}
	angle = &fault.Fault{Kind: fault.Impossible, Pointer: "/angle", Detail: "The angle is 5°.",
		Fix: "Make it 30° or more."}
	errPlain = errors.New("the disk is full")
)

func TestFaultReadsAsASentenceWithItsPlaceAndItsFix(t *testing.T) {
	t.Parallel()
	require.EqualError(t, width, "/depth: The depth is missing.")
	require.EqualError(t, angle, "/angle: The angle is 5°. Make it 30° or more.")
	require.EqualError(t, &fault.Fault{Detail: "Broken."}, "Broken.")
	require.EqualError(t, &fault.Fault{Parameter: "limit", Detail: "Is too much."}, "?limit: Is too much.")
	require.EqualError(t, &fault.Fault{Line: 12, Column: "price", Detail: "Is no price."}, "#0000012 price: Is no price.")
}

func TestNobodyIsBlamedByDefault(t *testing.T) {
	t.Parallel()
	require.Equal(t, fault.Internal, (&fault.Fault{}).Kind)
}

func TestAnEmptyListIsNoError(t *testing.T) {
	t.Parallel()
	var list fault.List
	list.Add("/top", nil)
	require.NoError(t, list.Err())
}

func TestListIsSortedByPointerAndKeepsTheOrderOfEquals(t *testing.T) {
	t.Parallel()
	second := &fault.Fault{Pointer: "/angle", Detail: "Second."}
	var list fault.List
	for _, f := range []*fault.Fault{width, angle, second} {
		list.Add("", f)
	}
	require.EqualError(t, list.Err(),
		"/angle: The angle is 5°. Make it 30° or more.\n/angle: Second.\n/depth: The depth is missing.")
}

func TestAddPutsThePrefixOnACopy(t *testing.T) {
	t.Parallel()
	var inner, outer fault.List
	inner.Add("/runs/0", width)
	outer.Add("/top", fmt.Errorf("check the top: %w", inner.Err()))
	require.Equal(t, "/top/runs/0/depth", outer[0].Pointer)
	require.Equal(t, "/runs/0/depth", inner[0].Pointer)
	require.Equal(t, "/depth", width.Pointer)
}

func TestAddKeepsAnErrorThatIsNoFault(t *testing.T) {
	t.Parallel()
	var list fault.List
	list.Add("/top", errPlain)
	require.Equal(t, fault.List{{Kind: fault.Internal, Pointer: "/top", Detail: "the disk is full"}}, list)
}

func TestAllFindsEveryFault(t *testing.T) {
	t.Parallel()
	internal := &fault.Fault{Kind: fault.Internal, Detail: "the disk is full"}
	tests := []struct {
		name string
		err  error
		want []*fault.Fault
	}{
		{"nothing", nil, nil},
		{"one", width, []*fault.Fault{width}},
		{"one wrapped", fmt.Errorf("check: %w", width), []*fault.Fault{width}},
		{"a list", fault.List{width, angle}, []*fault.Fault{width, angle}},
		{"a list wrapped", fmt.Errorf("check: %w", fault.List{width, angle}), []*fault.Fault{width, angle}},
		{"several joined", errors.Join(width, errPlain, errors.Join(fault.List{angle})), []*fault.Fault{width, internal, angle}},
		{"another error", errPlain, []*fault.Fault{internal}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			require.Equal(t, tt.want, fault.All(tt.err))
		})
	}
}

func TestAtPutsThePrefixOnFaultsAlone(t *testing.T) {
	t.Parallel()
	require.NoError(t, fault.At("/top", nil))
	require.NoError(t, fault.At("/top", fault.List{}))
	require.Same(t, errPlain, fault.At("/top", errPlain))

	one := fault.At("/top", fmt.Errorf("check: %w", width))
	var f *fault.Fault
	require.ErrorAs(t, one, &f)
	require.Equal(t, "/top/depth", f.Pointer)
	require.Equal(t, fault.Invalid, f.Kind)

	several := fault.At("/top", fault.List{width, angle})
	require.EqualError(t, several, "/top/angle: The angle is 5°. Make it 30° or more.\n/top/depth: The depth is missing.")
}

// Only what stands in a body moves with it: callers put their part before its pointer, and before nothing else.
func TestAPlaceOutsideOfABodyStaysWhereItIs(t *testing.T) {
	t.Parallel()
	var list fault.List
	list.Add("/top", &fault.Fault{Parameter: "limit"})
	list.Add("/top", &fault.Fault{Line: 2, Column: "price"})
	list.Add("/top", &fault.Fault{Column: "code"})
	list.Add("/top", &fault.Fault{Pointer: "/runs"})
	require.ErrorAs(t, list.Err(), &list)
	places := make([]string, len(list))
	for i, f := range list {
		places[i] = f.Place()
	}
	require.Equal(t, []string{"#0000000 code", "#0000002 price", "/top/runs", "?limit"}, places)
	require.Empty(t, list[3].Pointer)
}

func TestOverlongTextsAreCutAtACharacter(t *testing.T) {
	require.Equal(t, "sixteen letters.", fault.Cut("sixteen letters.", 16))
	require.Equal(t, "sixteen lett…", fault.Cut("sixteen letters.", 15), "the ellipsis has three bytes")
	require.Equal(t, "éé…", fault.Cut("ééééé", 8), "the third letter would be cut in two")
	for _, text := range []string{"ééééééééé", "日本語の長いことば", "a\xffbcdefghijkl"} {
		for most := 3; most < len(text); most++ {
			cut := fault.Cut(text, most)
			require.LessOrEqual(t, len(cut), most)
			require.True(t, utf8.ValidString(cut), cut)
			require.True(t, strings.HasPrefix(strings.ToValidUTF8(text, ""), strings.TrimSuffix(cut, "…")), cut)
		}
	}
}
