package body

import (
	"strconv"
	"strings"
	"unicode/utf16"

	"seamwright/service/fault"
)

// str reads text in quotation marks. Without escapes the result is a piece of the body's own text.
func (p *parser) str() (string, *fault.Fault) {
	p.at++
	start := p.at
	for p.at < len(p.text) {
		switch c := p.text[p.at]; {
		case c == '"':
			p.at++
			return p.text[start : p.at-1], nil
		case c == '\\':
			return p.escaped(start)
		case c < ' ':
			return "", p.wrong("a control character stands in the text; write it as an escape such as \\n")
		}
		p.at++
	}
	return "", p.wrong("the text has no closing quotation mark")
}

// escaped goes on from the first escape of a text that began at start.
func (p *parser) escaped(start int) (string, *fault.Fault) {
	var b strings.Builder
	b.WriteString(p.text[start:p.at])
	for p.at < len(p.text) {
		switch c := p.text[p.at]; {
		case c == '"':
			p.at++
			return b.String(), nil
		case c < ' ':
			return "", p.wrong("a control character stands in the text; write it as an escape such as \\n")
		case c != '\\':
			b.WriteByte(c)
			p.at++
		default:
			if err := p.escape(&b); err != nil {
				return "", err
			}
		}
	}
	return "", p.wrong("the text has no closing quotation mark")
}

// plainEscapes are the escapes of one letter and what they stand for.
const plainEscapes, plainMeanings = `"\/bfnrt`, "\"\\/\b\f\n\r\t"

func (p *parser) escape(b *strings.Builder) *fault.Fault {
	p.at++
	c := p.next()
	if i := strings.IndexByte(plainEscapes, c); i >= 0 {
		b.WriteByte(plainMeanings[i])
		p.at++
		return nil
	}
	if c != 'u' {
		return p.wrong(`no such escape; JSON has \" \\ \/ \b \f \n \r \t and \u with four hexadecimal digits`)
	}
	first, err := p.fourDigits()
	if err != nil {
		return err
	}
	if first == 0 {
		return p.wrong(`\u0000 stands in the text; no text may have it`)
	}
	if utf16.IsSurrogate(first) {
		second := rune(0)
		if strings.HasPrefix(p.text[p.at:], `\u`) {
			p.at++
			if second, err = p.fourDigits(); err != nil {
				return err
			}
		}
		if first = utf16.DecodeRune(first, second); first == '\ufffd' {
			return p.wrong(`half of a surrogate pair stands alone; it is no character`)
		}
	}
	b.WriteRune(first)
	return nil
}

// fourDigits reads u and four hexadecimal digits.
func (p *parser) fourDigits() (rune, *fault.Fault) {
	end := p.at + 5
	if end > len(p.text) || strings.ContainsAny(p.text[p.at+1:end], "+-_") {
		return 0, p.wrong(`\u takes four hexadecimal digits`)
	}
	n, err := strconv.ParseUint(p.text[p.at+1:end], 16, 16)
	if err != nil {
		return 0, p.wrong(`\u takes four hexadecimal digits`)
	}
	p.at = end
	return rune(n), nil
}
