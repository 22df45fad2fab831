package plan

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Every kind of joint has a whole row of its own, and what is no kind has none.
func TestEveryJointHasAWholeRow(t *testing.T) {
	words, names := map[JointKind]bool{}, map[string]bool{}
	for _, k := range JointKinds() {
		require.NotEmpty(t, k.Kind)
		require.NotEmpty(t, k.Name, k.Kind)
		require.NotEmpty(t, k.Customer, k.Kind)
		require.NotNil(t, k.meet, k.Kind)
		require.Equal(t, k.Name, k.Kind.Name())
		require.False(t, k.Turns && !(k.Through && k.Mitred),
			"%s: what turns is a miter first and runs along a run that goes through then", k.Kind)
		require.False(t, words[k.Kind] || names[k.Name], "%s stands twice", k.Kind)
		words[k.Kind], names[k.Name] = true, true
	}
	require.Empty(t, JointKind("").Name())
	require.Empty(t, JointKind("halved").Name())
}

// The ways to make a corner are all kinds in their order, each with either run through where one goes through.
func TestWays(t *testing.T) {
	rest := Ways()
	for _, k := range JointKinds() {
		if k.InLine {
			continue // it is no corner
		}
		sides := []Side{NoSide}
		if k.Through {
			sides = []Side{First, Second}
		}
		for _, side := range sides {
			require.NotEmpty(t, rest, k.Kind)
			require.Equal(t, Joint{k.Kind, side}, rest[0])
			rest = rest[1:]
		}
	}
	require.Empty(t, rest)
	require.Subset(t, Ways(), []Joint{{Miter, NoSide}, {Butt, First}, {Butt, Second}, {MasonsMiter, First},
		{MasonsMiter, Second}})
}
