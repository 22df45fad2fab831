package command

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/workbook"
)

func TestTheLeastLimitOfTheControlGroupsCounts(t *testing.T) {
	t.Parallel()
	const none = math.MaxInt64
	for name, c := range map[string]struct {
		files map[string]string
		want  int64
	}{
		"not Linux":                   {nil, none},
		"a container (v2)":            {map[string]string{"proc/self/cgroup": "0::/\n", "sys/fs/cgroup/memory.max": "536870912\n"}, 512 << 20},
		"a container without a limit": {map[string]string{"proc/self/cgroup": "0::/\n", "sys/fs/cgroup/memory.max": "max\n"}, none},
		"a machine":                   {map[string]string{"proc/self/cgroup": "0::/init.scope\n"}, none},
		"a unit": {map[string]string{"proc/self/cgroup": "0::/system.slice/a.service\n",
			"sys/fs/cgroup/system.slice/a.service/memory.max": "max\n", "sys/fs/cgroup/system.slice/memory.max": "1000\n"}, 1000},
		"its own, less than the one above": {map[string]string{"proc/self/cgroup": "0::/a/b\n",
			"sys/fs/cgroup/a/b/memory.max": "10\n", "sys/fs/cgroup/a/memory.max": "1000\n"}, 10},
		"a container (v1), its path not seen": {map[string]string{"proc/self/cgroup": "5:cpu:/docker/x\n4:memory:/docker/x\n0::/\n",
			"sys/fs/cgroup/memory/memory.limit_in_bytes": "268435456\n", "sys/fs/cgroup/cpu/memory.max": "1\n"}, 256 << 20},
		"v1 without a limit": {map[string]string{"proc/self/cgroup": "4:memory:/\n",
			"sys/fs/cgroup/memory/memory.limit_in_bytes": "9223372036854771712\n"}, 9223372036854771712},
		"no number": {map[string]string{"proc/self/cgroup": "odd\n0::/\n", "sys/fs/cgroup/memory.max": "\n"}, none},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			root := t.TempDir()
			for file, text := range c.files {
				require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(root, file)), 0o700))
				require.NoError(t, os.WriteFile(filepath.Join(root, file), []byte(text), 0o600))
			}
			require.Equal(t, c.want, memoryAllowed(root))
		})
	}
}

// What the files in deploy give the service has room for all workbooks that it takes in at once, beside what it has under calls.
func TestContainersHaveRoomForWorkbooks(t *testing.T) {
	t.Parallel()
	var s settings
	s.flags("serve") // sets the defaults
	require.Positive(t, s.MemoryLimit)
	for file, form := range map[string]string{
		"docker-compose.yml":             `\n    mem_limit: (\d+)m\n`,
		"deploy/compose-two.yml":         `\n  mem_limit: (\d+)m\n`, // of both instances
		"deploy/kubernetes/service.yaml": `limits: \{.*memory: (\d+)Mi\}`,
	} {
		text, err := os.ReadFile(filepath.Join("../..", file))
		require.NoError(t, err)
		found := regexp.MustCompile(form).FindAllSubmatch(text, -1)
		require.Len(t, found, 1, file)
		mib, err := strconv.ParseInt(string(found[0][1]), 10, 64)
		require.NoError(t, err)
		require.GreaterOrEqual(t, share(mib<<20), int64(workbook.MostMemory+s.MemoryLimit<<20), file)
	}
}
