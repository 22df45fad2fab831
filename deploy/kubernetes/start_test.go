package kubernetes

import (
	"bufio"
	"net/http"
	"os/exec"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// The job for migrations and then the service start with the very arguments of the manifests, but for the ports; the paths that are
// probed answer, and a service that is asked to end says that it is not ready, for as long as the manifest says.
func TestTheServiceStartsAsTheManifestsSay(t *testing.T) {
	m := read(t)
	address := "DATABASE_URL=" + database(running(t), "seamwright", "seamwright")
	path := program(t)

	for _, args := range [][]string{
		m.jobs["seamwright-migrate"].Spec.Template.Spec.Containers[0].Args,
		{"keys", "add", "--name", "test", "--scopes", "estimate"}, // else the first start makes one, and a file outside of this test
	} {
		command := exec.Command(path, args...)
		command.Env = []string{address}
		out, err := command.CombinedOutput()
		require.NoError(t, err, "%s", out)
	}

	args := strings.NewReplacer("0.0.0.0:8080", "127.0.0.1:0", "0.0.0.0:9090", "127.0.0.1:0")
	var changed []string
	for _, arg := range m.serving().Args {
		changed = append(changed, args.Replace(arg))
	}
	service := exec.Command(path, changed...)
	service.Env = []string{address}
	stdout, err := service.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, service.Start())
	defer service.Process.Kill() //nolint:errcheck // it has ended, unless the test failed
	base, lines := "", bufio.NewScanner(stdout)
	for base == "" && lines.Scan() {
		base = regexp.MustCompile(`http://127\.0\.0\.1:\d+ `).FindString(lines.Text())
	}
	base = strings.TrimSpace(base)
	require.NotEmpty(t, base)
	status := func(path string) int {
		answer, err := http.Get(base + path) //nolint:gosec // the service's own address
		require.NoError(t, err)
		require.NoError(t, answer.Body.Close())
		return answer.StatusCode
	}
	live, ready := m.serving().LivenessProbe.HTTPGet.Path, m.serving().ReadinessProbe.HTTPGet.Path
	require.Equal(t, http.StatusOK, status(live))
	require.Equal(t, http.StatusOK, status(ready))
	require.Equal(t, http.StatusNotFound, status("/metrics"), "they are on a port of their own")

	require.NoError(t, service.Process.Signal(syscall.SIGTERM))
	require.Eventually(t, func() bool { return status(ready) == http.StatusServiceUnavailable }, 4*time.Second, 20*time.Millisecond)
	require.Equal(t, http.StatusOK, status(live), "it is not started anew while it drains")
	require.NoError(t, service.Wait())
}
