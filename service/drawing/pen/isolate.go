package pen

import "strings"

// Isolate keeps a name that reads from right to left from turning what stands beside it.
func Isolate(s string) string {
	for _, r := range s {
		if r >= 0x590 && r < 0x900 || r >= 0xfb1d && r < 0xfe00 || r >= 0xfe70 && r < 0xff00 || r >= 0x10800 && r < 0x11000 ||
			r >= 0x1e800 && r < 0x1f000 {
			return "\u2068" + strings.Map(withoutControls, s) + "\u2069"
		}
	}
	return s
}

// withoutControls drops what sets the direction of text.
func withoutControls(r rune) rune {
	if r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 || r == 0x200e || r == 0x200f || r == 0x061c {
		return -1
	}
	return r
}

// Short is a name of at most so many letters, the rest an ellipsis, safe beside other words in a line.
func Short(name string, most int) string {
	if runes := []rune(name); len(runes) > most {
		name = string(runes[:most-1]) + "…"
	}
	return Isolate(name)
}
