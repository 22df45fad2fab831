package command

import (
	"math"
	"os"
	"path"
	"strconv"
	"strings"
)

// memoryAllowed is how many bytes of memory the system lets this process and those beside it have before it ends one of them: the
// least limit of its control group and those above (Linux, cgroups v1 and v2, as a container's or a unit's limit is set). Where
// nothing says so it is the largest number. Root is the root of the file system.
func memoryAllowed(root string) int64 {
	least := int64(math.MaxInt64)
	groups, err := os.ReadFile(path.Join(root, "proc/self/cgroup"))
	if err != nil {
		return least // not Linux: no limit is known
	}
	for line := range strings.Lines(string(groups)) {
		part := strings.SplitN(strings.TrimSpace(line), ":", 3) // number:controllers:path
		if len(part) != 3 {
			continue
		}
		folder, file := "sys/fs/cgroup", "memory.max"
		switch part[1] {
		case "":
		case "memory":
			folder, file = "sys/fs/cgroup/memory", "memory.limit_in_bytes"
		default:
			continue
		}
		for group := path.Clean("/" + part[2]); ; group = path.Dir(group) {
			least = min(least, limitIn(path.Join(root, folder, group, file)))
			if group == "/" {
				break
			}
		}
	}
	return least
}

// limitIn reads one group's limit. Groups that a container does not see, and "max", are no limit.
func limitIn(file string) int64 {
	text, err := os.ReadFile(file)
	if err != nil {
		return math.MaxInt64
	}
	limit, err := strconv.ParseInt(strings.TrimSpace(string(text)), 10, 64)
	if err != nil || limit <= 0 {
		return math.MaxInt64
	}
	return limit
}
