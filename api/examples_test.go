package api_test

import (
	"encoding/json"
	"net/http"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/openapi"
)

// Every example of a request in the spec is sent, and must be answered with 200 and what the spec says.
func TestEveryExampleOfTheSpecIsAnswered(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	c := newClient(t, healthy(t))
	sent := 0
	for path, item := range document.Paths.Map() {
		if item.Post == nil {
			continue
		}
		examples := item.Post.RequestBody.Value.Content["application/json"].Examples
		names := make([]string, 0, len(examples))
		for name := range examples {
			names = append(names, name)
		}
		sort.Strings(names)
		for _, name := range names {
			raw, err := json.Marshal(examples[name].Value.Value)
			require.NoError(t, err)
			for _, query := range []string{"", "?explain=true"} {
				a := c.post(t, path+query, string(raw))
				require.Equal(t, http.StatusOK, a.status, "%s %s: %s", path, name, a.body)
				require.Equal(t, query != "", strings.Contains(string(a.body), `"workings"`))
				sent++
			}
		}
	}
	require.GreaterOrEqual(t, sent, 16)
}
