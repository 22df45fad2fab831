package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is fetched is named by tag and digest; of a digest the form is checked here alone. The proxy's was not seen twice (see there).
// One PostgreSQL serves, and makes the backups in a cluster.
func TestImagesAreNamedByTheirDigests(t *testing.T) {
	t.Parallel()
	top := filepath.Join("..", "..")
	pinned := regexp.MustCompile(`^[a-z]+:[0-9a-z.-]+@sha256:[0-9a-f]{64}$`)
	named := regexp.MustCompile(`(?m)^(?:\s+image:|ARG GO_IMAGE=)\s*(\S+)$`)
	own := []string{"seamwright", "seamwright:VERSION", "haproxy:2.6"}
	files := []string{"docker-compose.yml", "deploy/compose-two.yml", "deploy/Dockerfile"}
	manifests, err := filepath.Glob(filepath.Join(top, "deploy", "kubernetes", "*.yaml"))
	require.NoError(t, err)
	require.NotEmpty(t, manifests)
	for _, m := range manifests {
		files = append(files, "deploy/kubernetes/"+filepath.Base(m))
	}
	found := map[string]int{}
	for _, file := range files {
		raw, err := os.ReadFile(filepath.Join(top, file))
		require.NoError(t, err)
		for _, image := range named.FindAllStringSubmatch(string(raw), -1) {
			if !slices.Contains(own, image[1]) {
				require.Regexp(t, pinned, image[1], file)
				found[image[1]]++
			}
		}
	}
	require.Len(t, found, 2, "a compiler and a database: %v", found)
}
