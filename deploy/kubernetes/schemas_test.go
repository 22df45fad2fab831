package kubernetes

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/stretchr/testify/require"
	metav1 "k8s.io/apimachinery/pkg/apis/meta/v1"
	"sigs.k8s.io/yaml"
)

// schemas are those that Kubernetes publishes, by "apiVersion kind". The cluster prunes or refuses a field that a schema does not
// name, so each object with named fields is closed here.
func schemas(t *testing.T) map[string]*openapi3.Schema {
	t.Helper()
	document, err := openapi3.NewLoader().LoadFromFile(filepath.Join("testdata", "published", "schemas.json"))
	require.NoError(t, err)
	byKind, closed := map[string]*openapi3.Schema{}, map[*openapi3.Schema]bool{}
	for _, ref := range document.Components.Schemas {
		shut(ref, closed)
		text, err := json.Marshal(ref.Value.Extensions["x-kubernetes-group-version-kind"])
		require.NoError(t, err)
		var kinds []struct{ Group, Version, Kind string }
		require.NoError(t, json.Unmarshal(text, &kinds))
		if len(kinds) == 1 {
			byKind[strings.TrimPrefix(kinds[0].Group+"/"+kinds[0].Version, "/")+" "+kinds[0].Kind] = ref.Value
		}
	}
	return byKind
}

// shut closes every object with named fields that says nothing of others, wherever it stands in a schema.
func shut(ref *openapi3.SchemaRef, done map[*openapi3.Schema]bool) {
	if ref == nil || done[ref.Value] {
		return
	}
	s := ref.Value
	done[s] = true
	if len(s.Properties) > 0 && s.AdditionalProperties.Schema == nil && s.AdditionalProperties.Has == nil {
		s.AdditionalProperties.Has = new(bool)
	}
	for _, next := range s.Properties {
		shut(next, done)
	}
	for _, list := range []openapi3.SchemaRefs{s.AllOf, s.OneOf, s.AnyOf} {
		for _, next := range list {
			shut(next, done)
		}
	}
	shut(s.Items, done)
	shut(s.AdditionalProperties.Schema, done)
	shut(s.Not, done)
}

// fits holds a document against the published schema of its kind.
func fits(byKind map[string]*openapi3.Schema, document []byte) error {
	var kind metav1.TypeMeta
	if err := yaml.Unmarshal(document, &kind); err != nil {
		return err
	}
	schema := byKind[kind.APIVersion+" "+kind.Kind]
	if schema == nil {
		return &openapi3.SchemaError{Reason: "no schema is published for " + kind.APIVersion + " " + kind.Kind}
	}
	var value any
	if err := yaml.Unmarshal(document, &value); err != nil {
		return err
	}
	return schema.VisitJSON(value, openapi3.MultiErrors())
}

func TestManifestsKeepToThePublishedSchemas(t *testing.T) {
	byKind := schemas(t)
	used := map[string]bool{}
	for _, d := range documents(t) {
		require.NoError(t, fits(byKind, d.text), "%s: %s", d.file, d.kind)
		used[d.kind] = true
	}
	for kind := range byKind {
		require.True(t, used[kind], "nothing is a %s: go run ./schemas", kind)
	}
}

// What is wrong with a manifest is found, and where. The published schemas have no lists of words: they say in prose that
// restartPolicy is Always, OnFailure or Never.
func TestWhatIsWrongWithAManifestIsFound(t *testing.T) {
	byKind, all := schemas(t), map[string][]byte{}
	for _, d := range documents(t) {
		all[d.kind] = d.text
	}
	for name, c := range map[string]struct{ kind, old, with, at, says string }{
		"a misspelt field": {"apps/v1 Deployment", `readinessProbe:`, `readynessProbe:`,
			"/containers/0", `property "readynessProbe" is unsupported`},
		"one in another kind": {"batch/v1 CronJob", `concurrencyPolicy:`, `concurencyPolicy:`,
			"/spec", `property "concurencyPolicy" is unsupported`},
		"a field in the wrong place": {"policy/v1 PodDisruptionBudget", `\nspec:`, "\nspec:\n  replicas: 2",
			"/spec", `property "replicas" is unsupported`},
		"text for a number": {"apps/v1 Deployment", `containerPort: 8080`, `containerPort: "8080"`,
			"/ports/0/containerPort", "value must be an integer"},
		"a number for text": {"v1 PersistentVolumeClaim", `accessModes: \[.*\]`, `accessModes: [1]`,
			"/accessModes/0", "value must be a string"},
		"part of one": {"autoscaling/v2 HorizontalPodAutoscaler", `minReplicas: 2`, `minReplicas: 2.5`,
			"/minReplicas", "value must be an integer"},
		"more than 32 bits": {"autoscaling/v2 HorizontalPodAutoscaler", `minReplicas: 2`, `minReplicas: 3000000000`,
			"/minReplicas", "int32"},
		"neither a number nor text": {"v1 Service", `targetPort: http`, `targetPort: [http]`,
			"/ports/0/targetPort", "value must be an integer"},
		"a quantity that is a list": {"batch/v1 Job", `memory: 384Mi`, `memory: [384Mi]`,
			"/limits/memory", "value must be a number"},
		"a list that is an object": {"networking.k8s.io/v1 NetworkPolicy", `policyTypes: (\[.*\])`, `policyTypes: {a: $1}`,
			"/policyTypes", "value must be an array"},
		"what must be there and is not": {"apps/v1 Deployment", `(?m)^  selector:\n    matchLabels:.*\n`, "",
			"/spec", `property "selector" is missing`},
		"an API that there is not": {"apps/v1 Deployment", `apiVersion: apps/v1`, `apiVersion: apps/v2`,
			"", "no schema is published for apps/v2 Deployment"},
	} {
		t.Run(name, func(t *testing.T) {
			old := regexp.MustCompile(c.old)
			require.Regexp(t, old, string(all[c.kind]))
			err := fits(byKind, old.ReplaceAll(all[c.kind], []byte(c.with)))
			require.ErrorContains(t, err, c.says)
			require.ErrorContains(t, err, c.at)
		})
	}
}

// The published schemas are of the release whose types the other tests decode into.
func TestTheSchemasAreOfTheReleaseOfTheTypes(t *testing.T) {
	module, err := os.ReadFile("go.mod")
	require.NoError(t, err)
	types := regexp.MustCompile(`k8s\.io/api v0(\.\S+)`).FindSubmatch(module)
	require.NotNil(t, types)
	document, err := openapi3.NewLoader().LoadFromFile(filepath.Join("testdata", "published", "schemas.json"))
	require.NoError(t, err)
	require.Equal(t, "v1"+string(types[1]), document.Info.Version, "go run ./schemas")
}
