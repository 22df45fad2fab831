package speak_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/document/words"
	"seamwright/service/plan"
)

// Every language has a sentence for every kind of joint.
func TestEveryJointIsSaidInEveryLanguage(t *testing.T) {
	for _, tag := range words.Languages() {
		var messages map[string]any
		require.NoError(t, json.Unmarshal(words.Messages(tag), &messages))
		for _, k := range plan.JointKinds() {
			require.NotEmpty(t, messages["corner_"+string(k.Kind)], "%s: %s", tag, k.Name)
		}
	}
}
