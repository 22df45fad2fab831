package words

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every language has the same messages, English among them; a list that is changed by whoever asked for it is changed for nobody else.
func TestLanguagesHaveTheSameMessages(t *testing.T) {
	t.Parallel()
	languages := Languages()
	require.Contains(t, languages, "en")
	require.True(t, slices.IsSorted(languages))
	languages[0] = "changed"
	require.NotContains(t, Languages(), "changed")
	names := func(language string) (list []string) {
		var all map[string]any
		require.NoError(t, json.Unmarshal(Messages(language), &all))
		for name := range all {
			list = append(list, name)
		}
		slices.Sort(list)
		return list
	}
	for _, language := range Languages() {
		require.Equal(t, names("en"), names(language), language)
	}
}

// A message is found by its name; there is none of a language that there is not, of another name, or where it goes with a number.
func TestAMessageByItsName(t *testing.T) {
	t.Parallel()
	require.Equal(t, "Total", Text("en", "total"))
	require.NotEmpty(t, Text("de", "total"))
	require.NotEqual(t, Text("en", "included"), Text("de", "included"))
	require.Nil(t, Messages("xx"))
	require.Empty(t, Text("xx", "total"))
	require.Empty(t, Text("en", "no_such_words"))
	require.Empty(t, Text("en", "days"), "it has a form for one and one for more")
}
