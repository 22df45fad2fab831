package joint

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/plan"
)

// The rules know every kind of joint and every form of pull parts, and nothing else.
func TestEveryKindIsJudged(t *testing.T) {
	for _, k := range plan.JointKinds() {
		m := mannerOf(k.Kind)
		require.NotNil(t, m, k.Name)
		require.NotNil(t, m.cutting, k.Name)
		require.NotNil(t, m.cutText, k.Name)
		for _, w := range []wish{m.diagonal, m.straight} {
			require.Equal(t, k.InLine, w.share == 0, k.Name)
			require.NotEmpty(t, w.text, k.Name)
		}
	}
	require.Len(t, manners, len(plan.JointKinds()))

	pulls := map[catalogue.FastenerForm]bool{}
	for _, k := range catalogue.FastenerKinds() {
		if k.Role != catalogue.Pulls {
			continue
		}
		pulls[k.Form] = true
		g := grips[k.Form]
		require.NotNil(t, g, k.Name)
		require.NotNil(t, g.points, k.Name)
		require.NotNil(t, g.text, k.Name)
		require.NotZero(t, g.apart, k.Name)
		require.NotEmpty(t, g.apartText, k.Name)
	}
	for form, g := range grips {
		require.Equal(t, pulls[catalogue.FastenerForm(form)], g != nil, form)
	}
}
