package joint

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/plan"
)

// The rules know every kind of joint, and nothing else.
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
}
