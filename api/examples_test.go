package api_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"regexp"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/openapi"
)

// Every example of a calculation in the spec is sent, and must be answered with 200 and what the spec says.
func TestEveryExampleOfTheSpecIsAnswered(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	c := newClient(t, healthy(t))
	sent := 0
	for path, item := range document.Paths.Map() {
		// what stores something has its own tests
		if item.Post == nil || item.Post.Tags[0] != "estimates" || strings.Contains(path, "{") {
			continue
		}
		asJSON := item.Post.RequestBody.Value.Content["application/json"]
		if asJSON == nil { // a stream of lines has its own tests
			continue
		}
		for name := range asJSON.Examples {
			for _, query := range []string{"", "?explain=true"} {
				a := c.post(t, path+query, exampleBody(t, path, name))
				require.Equal(t, http.StatusOK, a.status, "%s %s: %s", path, name, a.body)
				require.Equal(t, query != "", strings.Contains(string(a.body), `"workings"`))
				sent++
			}
		}
	}
	require.GreaterOrEqual(t, sent, 16)
}

func exampleBody(t testing.TB, path, name string) string {
	t.Helper()
	document, err := openapi.Document()
	require.NoError(t, err)
	example := document.Paths.Value(path).Post.RequestBody.Value.Content["application/json"].Examples[name]
	require.NotNil(t, example, "%s has no example %s", path, name)
	raw, err := json.Marshal(example.Value.Value)
	require.NoError(t, err)
	return string(raw)
}

// specFile is the spec as the working tree has it.
const specFile = "../openapi/openapi.yaml"

// markedAnswer is an example answer in the spec: the request that it answers, and the JSON.
var markedAnswer = regexp.MustCompile(`(?s)( *)# answer to (GET|POST) (\S+)( \w+)?\n(.*?)\n *# end of answer`)

// The example answers in the spec are answers of this service. Figures may have moved with the catalogue since;
// UPDATE_GOLDEN=1 writes the answers of today. The names and types must be the same at any time.
func TestTheExampleAnswersOfTheSpecAreThoseOfTheService(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	spec, err := os.ReadFile(specFile)
	require.NoError(t, err)
	found := 0
	renewed := markedAnswer.ReplaceAllStringFunc(string(spec), func(marked string) string {
		found++
		m := markedAnswer.FindStringSubmatch(marked)
		var a answer
		if m[2] == http.MethodGet {
			a = c.get(t, m[3])
		} else {
			path, _, _ := strings.Cut(m[3], "?")
			a = c.post(t, m[3], exampleBody(t, path, strings.TrimSpace(m[4])))
		}
		require.Equal(t, http.StatusOK, a.status, "%s: %s", marked[:60], a.body)
		if os.Getenv("UPDATE_GOLDEN") == "" {
			require.Equal(t, shape(t, a.body), shape(t, []byte(m[5])),
				"%s %s%s: renew the example with UPDATE_GOLDEN=1 go test ./api", m[2], m[3], m[4])
		}
		return fmt.Sprintf("%s# answer to %s %s%s\n%s%s\n%s# end of answer", m[1], m[2], m[3], m[4], m[1],
			layout(t, a.body, m[1]), m[1])
	})
	require.Equal(t, 36, found)
	if os.Getenv("UPDATE_GOLDEN") != "" {
		require.NoError(t, os.WriteFile(specFile, []byte(renewed), 0o644))
	}
}

// shape lists the places in a JSON text, list items as one, with the types found there.
func shape(t *testing.T, raw []byte) []string {
	t.Helper()
	var value any
	require.NoError(t, json.Unmarshal(raw, &value))
	found := map[string]bool{}
	outlineOf("", value, found)
	places := make([]string, 0, len(found))
	for place := range found {
		places = append(places, place)
	}
	sort.Strings(places)
	return places
}

// outlineOf notes the properties that always stand in objects; what depends on the top (a null or not, an empty
// list or not, the type of an assumption) is not of the shape.
func outlineOf(at string, value any, found map[string]bool) {
	switch v := value.(type) {
	case map[string]any:
		for name, inside := range v {
			found[at+"/"+name] = true
			if strings.Count(at, "/") < 3 {
				outlineOf(at+"/"+name, inside, found)
			}
		}
	case []any:
		for _, inside := range v {
			outlineOf(at+"/0", inside, found)
		}
	}
}

// layout breaks compact JSON into lines that can be read, at most about 150 characters where that is possible.
func layout(t *testing.T, raw json.RawMessage, indent string) string {
	t.Helper()
	if len(raw) <= 150 || raw[0] != '{' && raw[0] != '[' {
		return string(raw)
	}
	decoder := json.NewDecoder(bytes.NewReader(raw))
	open, err := decoder.Token()
	require.NoError(t, err)
	var lines []string
	for decoder.More() {
		key := ""
		if open == json.Delim('{') {
			name, err := decoder.Token()
			require.NoError(t, err)
			key = fmt.Sprintf("%q: ", name)
		}
		var inside json.RawMessage
		require.NoError(t, decoder.Decode(&inside))
		lines = append(lines, indent+"  "+key+layout(t, inside, indent+"  "))
	}
	return string(raw[:1]) + "\n" + strings.Join(lines, ",\n") + "\n" + indent + string(raw[len(raw)-1:])
}
