package workbook

import "strconv"

// format is what a cell's number format makes of its number.
type format uint8

const (
	plain   format = iota
	date           // a day, a time, or both
	percent        // a hundredth
	padded         // padded + n: with zeros in front, n digits at least
)

// mostPadded is how many zeros a format may ask for: an article number has no more digits than a number keeps.
const mostPadded = 15

// mostFormats is how many formats a workbook may have; a spreadsheet program takes 65,490 (Microsoft, "Excel specifications and
// limits").
const mostFormats = 70_000

// formats reads what the styles' cells make of numbers, in the order in which cells name them. Without styles there is none.
func (p *parts) formats(name string) ([]format, error) {
	if name == "" {
		return nil, nil
	}
	own := map[string]format{}
	var list []format
	within := false // in the formats that cells name: others have the same elements
	err := p.whole(name, func(t *tokens) error {
		switch {
		case len(own) > mostFormats || len(list) > mostFormats:
			return invalid("The workbook has more than %d formats.", mostFormats)
		case t.starts("numFmt"):
			own[t.attribute("numFmtId")] = formatOf(t.attribute("formatCode"))
		case t.starts("cellXfs"):
			within = true
		case t.ends("cellXfs"):
			within = false
		case within && t.starts("xf"):
			id := t.attribute("numFmtId")
			f, known := own[id]
			if !known {
				f = builtIn(id)
			}
			list = append(list, f)
		}
		return nil
	})
	return list, err
}

// builtIn is a format that workbooks have without saying so (ISO/IEC 29500-1, section 18.8.30): 9 and 10 are percentages, 14 to 22
// and 45 to 47 dates and times, and in workbooks of East Asian languages 27 to 36 and 50 to 58.
func builtIn(id string) format {
	n, err := strconv.Atoi(id)
	switch {
	case err != nil:
		return plain
	case n == 9 || n == 10:
		return percent
	case 14 <= n && n <= 22 || 27 <= n && n <= 36 || 45 <= n && n <= 47 || 50 <= n && n <= 58:
		return date
	}
	return plain
}

// formatOf reads a format's code, up to its first semicolon: what comes behind is for negative numbers, nothing and texts. Letters in
// quotation marks, behind a backslash, an underscore or an asterisk stand for themselves, as do those in square brackets but for
// elapsed times.
func formatOf(code string) format {
	zeros := 0
	all := true // nothing but zeros
	for i := 0; i < len(code); i++ {
		switch c := code[i]; c {
		case ';':
			i = len(code)
			continue
		case '"':
			for i++; i < len(code) && code[i] != '"'; i++ {
			}
		case '\\', '_', '*':
			i++
		case '[':
			start := i + 1
			for i++; i < len(code) && code[i] != ']'; i++ {
			}
			if elapsed(code[start:min(i, len(code))]) {
				return date
			}
		case 'y', 'Y', 'm', 'M', 'd', 'D', 'h', 'H', 's', 'S':
			return date
		case 'G', 'g': // General, of which no letter counts
			if len(code)-i >= 7 {
				i += 6
			}
		case '%':
			return percent
		case '0':
			zeros++
			continue
		}
		all = false
	}
	if all && 1 < zeros && zeros <= mostPadded {
		return padded + format(zeros)
	}
	return plain
}

// elapsed reports whether what stands in brackets counts hours, minutes or seconds.
func elapsed(text string) bool {
	for i := 0; i < len(text); i++ {
		if c := text[i] | 0x20; c != text[0]|0x20 || c != 'h' && c != 'm' && c != 's' {
			return false
		}
	}
	return text != ""
}
