package shelf

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
)

func TestEverySettingHasAValue(t *testing.T) {
	t.Parallel()
	settings, err := catalogue.DefaultSettings()
	require.NoError(t, err)
	now, err := settingsNow(&catalogue.Snapshot{Settings: settings})
	require.NoError(t, err)
	require.NotEmpty(t, now)
	values := map[string]string{}
	for _, s := range now {
		values[s.Key] = s.value
	}
	again, err := catalogue.ReadSettings(values)
	require.NoError(t, err, "what is shown must be what can be read")
	require.Equal(t, settings, again)
}
