package compare

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/joint"
)

// A card shows four reasons: what the cost beside them leaves out is among them, however few points it has.
func TestWhatTheCostLeavesOutComesFirst(t *testing.T) {
	t.Parallel()
	divided := joint.Finding{Rule: joint.Site, Text: "Run A's piece would be 116 in long, and at most 105-13/32 in passes the way."}
	require.Greater(t, weight(divided), weight(joint.Finding{Rule: joint.Cutting, Effect: joint.Against, Points: -40}))
	require.Less(t, weight(joint.Finding{Rule: joint.Site, Effect: joint.For, Points: 6}), weight(joint.Finding{Rule: joint.Cutting, Points: -12}))
}
