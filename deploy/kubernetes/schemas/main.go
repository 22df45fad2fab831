// Program schemas cuts what the manifests are made of out of the OpenAPI documents that Kubernetes publishes with its source, and
// writes it to standard output. In deploy/kubernetes:
//
//	go run ./schemas >testdata/published/schemas.json
//
// The release is that of k8s.io/api in go.mod; its source comes as a Go module, by its checksum. Descriptions are left out.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"sigs.k8s.io/yaml"
)

func main() {
	if err := cut(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "schemas:", err)
		os.Exit(1)
	}
}

const source = "k8s.io/kubernetes"

// cut writes one OpenAPI document with the schemas of all kinds that the manifests have, and of all that these refer to.
func cut(out io.Writer) error {
	release, folder, err := published()
	if err != nil {
		return err
	}
	kinds, err := manifested()
	if err != nil {
		return err
	}
	c := cutting{taken: map[string]any{}}
	for _, k := range kinds {
		if err := c.take(folder, k); err != nil {
			return fmt.Errorf("%s %s: %w", k.APIVersion, k.Kind, err)
		}
	}
	return write(out, release, c.taken)
}

// published is the release whose types the tests use, and the folder of its OpenAPI documents.
func published() (release, folder string, err error) {
	version, err := exec.Command("go", "list", "-m", "-f", "{{.Version}}", "k8s.io/api").Output()
	if err != nil {
		return "", "", fmt.Errorf("which release: %w", err)
	}
	release = "v1" + strings.TrimPrefix(strings.TrimSpace(string(version)), "v0") // v0.37.2 has the types of v1.37.2
	answer, err := exec.Command("go", "mod", "download", "-json", source+"@"+release).Output()
	if err != nil {
		return "", "", fmt.Errorf("%s %s: %w: %s", source, release, err, answer)
	}
	var module struct{ Dir string }
	if err := json.Unmarshal(answer, &module); err != nil {
		return "", "", err
	}
	return release, filepath.Join(module.Dir, "api", "openapi-spec", "v3"), nil
}

// kind is what a manifest says it is.
type kind struct {
	APIVersion string `json:"apiVersion"`
	Kind       string `json:"kind"`
}

// manifested are the kinds of all manifests of this folder, each once.
func manifested() ([]kind, error) {
	files, err := filepath.Glob("*.yaml")
	if err != nil {
		return nil, err
	}
	seen := map[kind]bool{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		for document := range bytes.SplitSeq(text, []byte("\n---\n")) {
			var k kind
			if err := yaml.Unmarshal(document, &k); err != nil {
				return nil, fmt.Errorf("%s: %w", file, err)
			}
			seen[k] = true
		}
	}
	if len(seen) == 0 {
		return nil, errors.New("no manifest is here; run it in deploy/kubernetes")
	}
	return slices.SortedFunc(maps.Keys(seen), func(a, b kind) int {
		return strings.Compare(a.APIVersion+" "+a.Kind, b.APIVersion+" "+b.Kind)
	}), nil
}

// cutting gathers schemas by name.
type cutting struct {
	from  map[string]any // all of the document at hand
	taken map[string]any
}

// take takes a kind's schema, and what it refers to, out of its group's document.
func (c *cutting) take(folder string, k kind) error {
	group, version, grouped := strings.Cut(k.APIVersion, "/")
	name := "api__" + k.APIVersion
	if grouped {
		name = "apis__" + group + "__" + version
	} else {
		group, version = "", group
	}
	text, err := os.ReadFile(filepath.Join(folder, name+"_openapi.json"))
	if err != nil {
		return err
	}
	var document struct {
		Components struct {
			Schemas map[string]any `json:"schemas"`
		} `json:"components"`
	}
	if err := json.Unmarshal(text, &document); err != nil {
		return err
	}
	c.from = document.Components.Schemas
	for name, schema := range c.from {
		if is(schema, group, version, k.Kind) {
			return c.add(name)
		}
	}
	return errors.New("no schema is published for it")
}

// is says whether a schema is that of a kind alone: some, such as the options of a deletion, belong to many.
func is(schema any, group, version, kind string) bool {
	fields, _ := schema.(map[string]any)
	kinds, _ := fields["x-kubernetes-group-version-kind"].([]any)
	if len(kinds) != 1 {
		return false
	}
	k, _ := kinds[0].(map[string]any)
	return k["group"] == group && k["version"] == version && k["kind"] == kind
}

// add takes a schema and all that it refers to. One that stands in several documents must be the same in each.
func (c *cutting) add(name string) error {
	schema, there := c.from[name]
	if !there {
		return fmt.Errorf("%s is referred to and not there", name)
	}
	refers, err := bare(schema)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if before, there := c.taken[name]; there {
		a, err := json.Marshal(before)
		if err != nil {
			return err
		}
		b, err := json.Marshal(schema)
		if err != nil {
			return err
		}
		if !bytes.Equal(a, b) {
			return fmt.Errorf("%s differs between two documents", name)
		}
		return nil
	}
	c.taken[name] = schema
	for _, next := range refers {
		if err := c.add(next); err != nil {
			return err
		}
	}
	return nil
}

// bare takes the descriptions out of a schema, and returns the names of those that it refers to.
func bare(schema any) (refers []string, err error) {
	fields, ok := schema.(map[string]any)
	if !ok {
		if _, truth := schema.(bool); truth { // as additionalProperties may be
			return nil, nil
		}
		return nil, fmt.Errorf("%v is no schema", schema)
	}
	delete(fields, "description")
	if ref, there := fields["$ref"].(string); there {
		refers = append(refers, strings.TrimPrefix(ref, "#/components/schemas/"))
	}
	var within []any
	for _, word := range []string{"items", "additionalProperties", "not"} {
		if next, there := fields[word]; there {
			within = append(within, next)
		}
	}
	for _, word := range []string{"allOf", "oneOf", "anyOf"} {
		list, _ := fields[word].([]any)
		within = append(within, list...)
	}
	properties, _ := fields["properties"].(map[string]any)
	within = slices.AppendSeq(within, maps.Values(properties))
	for _, next := range within {
		more, err := bare(next)
		if err != nil {
			return nil, err
		}
		refers = append(refers, more...)
	}
	return refers, nil
}

// write writes the document, a line for each schema.
func write(out io.Writer, release string, schemas map[string]any) error {
	b := &bytes.Buffer{}
	fmt.Fprintf(b, `{"openapi": "3.0.0",
"info": {"title": "Kubernetes: what the manifests are made of", "version": %q,
"description": "Cut out of api/openapi-spec/v3 of %s %s, without descriptions. Apache License 2.0, the Kubernetes authors."},
"paths": {},
"components": {"schemas": {`, release, source, release)
	for i, name := range slices.Sorted(maps.Keys(schemas)) {
		text, err := json.Marshal(schemas[name]) // keys in order
		if err != nil {
			return err
		}
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(b, "\n%q: %s", name, text)
	}
	b.WriteString("\n}}}\n")
	_, err := out.Write(b.Bytes())
	return err
}
