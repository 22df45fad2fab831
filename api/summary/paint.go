package summary

import "strings"

// What terminals understand (ECMA-48, select graphic rendition).
const (
	bold   = "\x1b[1m"
	faint  = "\x1b[2m"
	yellow = "\x1b[33m"
	plain  = "\x1b[0m"
)

// paint sets off titles, what was chosen, and what to heed. It comes last, as colour would count as letters in tables.
func paint(text string) string {
	lines := strings.Split(text, "\n")
	out := make([]string, len(lines))
	for i, line := range lines {
		out[i] = line
		switch next := i + 1; {
		case line == "":
		case next < len(lines) && ruled(lines[next]), strings.HasPrefix(line, "  ► "):
			out[i] = bold + line + plain
		case ruled(line), strings.HasPrefix(line, "  Seen from above"):
			out[i] = faint + line + plain
		case strings.HasPrefix(line, "  caution: "), strings.HasPrefix(line, "  serious: "):
			out[i] = yellow + line + plain
		}
	}
	return strings.Join(out, "\n")
}

// ruled says whether a line is the rule under a title.
func ruled(line string) bool {
	return line != "" && strings.Trim(line, "─") == "" || line != "" && strings.Trim(line, "═") == ""
}
