package main

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"time"
)

// ticksPerSecond is the unit of times in /proc/PID/stat as Linux shows it to programs: USER_HZ, which is 100 on every
// architecture that Go runs on (proc_pid_stat(5), sysconf(3)).
const ticksPerSecond = 100

// cpuTime returns the processor time, of the user's code and of the kernel's, that a process has used.
func cpuTime(pid int) (time.Duration, error) {
	raw, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return 0, err
	}
	return parseStat(string(raw))
}

// parseStat reads utime and stime, fields 14 and 15. Field 2 is the program's name in parentheses and may hold both
// spaces and parentheses, so fields are counted from behind it.
func parseStat(line string) (time.Duration, error) {
	fields := strings.Fields(line[strings.LastIndexByte(line, ')')+1:])
	if len(fields) < 13 {
		return 0, fmt.Errorf("unexpected /proc/PID/stat: %q", line)
	}
	user, err := strconv.ParseInt(fields[11], 10, 64)
	if err != nil {
		return 0, err
	}
	system, err := strconv.ParseInt(fields[12], 10, 64)
	return time.Duration(user+system) * time.Second / ticksPerSecond, err
}

// peakMemory returns the largest resident memory that a process has had, in bytes.
func peakMemory(pid int) (int64, error) {
	raw, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0, err
	}
	return parsePeak(string(raw))
}

// parsePeak reads VmHWM, which is in units of 1024 bytes though it says kB.
func parsePeak(status string) (int64, error) {
	_, rest, found := strings.Cut(status, "VmHWM:")
	fields := strings.Fields(rest)
	if !found || len(fields) < 2 || fields[1] != "kB" {
		return 0, fmt.Errorf("no VmHWM in /proc/PID/status: %q", status)
	}
	n, err := strconv.ParseInt(fields[0], 10, 64)
	return n * 1024, err
}
