package step

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// parser reads the tokens of Part 21.
type parser struct {
	src  string
	at   int
	line int // on which at lies, from 1
	seen int // records and parameters
}

// count counts a record or a parameter.
func (p *parser) count() error {
	if p.seen++; p.seen > maxValues {
		return fmt.Errorf("more than %d values", maxValues)
	}
	return nil
}

// peek returns the first byte behind space and comments, 0 at the end.
func (p *parser) peek() byte {
	for p.at < len(p.src) {
		switch c := p.src[p.at]; {
		case c == '\n':
			p.line++
			p.at++
		case c == ' ' || c == '\t' || c == '\r':
			p.at++
		case strings.HasPrefix(p.src[p.at:], "/*"):
			end := strings.Index(p.src[p.at+2:], "*/")
			if end < 0 {
				return '/' // an open comment is no token
			}
			p.line += strings.Count(p.src[p.at:p.at+2+end], "\n")
			p.at += end + 4
		default:
			return c
		}
	}
	return 0
}

// words takes these words or signs, in this order.
func (p *parser) words(words ...string) error {
	for _, w := range words {
		p.peek()
		if !strings.HasPrefix(p.src[p.at:], w) {
			return fmt.Errorf("want %s", w)
		}
		p.at += len(w)
	}
	return nil
}

// take returns the bytes from here on for which ok holds.
func (p *parser) take(ok func(byte) bool) string {
	from := p.at
	for p.at < len(p.src) && ok(p.src[p.at]) {
		p.at++
	}
	return p.src[from:p.at]
}

func upper(c byte) bool { return c >= 'A' && c <= 'Z' || c == '_' }
func digit(c byte) bool { return c >= '0' && c <= '9' }
func word(c byte) bool  { return upper(c) || digit(c) }

func (p *parser) keyword() (string, error) {
	if !upper(p.peek()) {
		return "", errors.New("want a keyword")
	}
	return p.take(word), nil
}

// ref takes "#1".
func (p *parser) ref() (int, error) {
	p.at++
	s := p.take(digit)
	n, err := strconv.ParseInt(s, 10, 32)
	if err != nil || n == 0 {
		return 0, fmt.Errorf("#%s names no entity", s)
	}
	return int(n), nil
}

// params takes "(…)".
func (p *parser) params(depth int) ([]Param, error) {
	if depth > maxDepth {
		return nil, fmt.Errorf("lists within lists, %d deep", depth)
	}
	if err := p.words("("); err != nil {
		return nil, err
	}
	var out []Param
	if p.peek() == ')' {
		p.at++
		return out, nil
	}
	for {
		q, err := p.param(depth)
		if err != nil {
			return nil, err
		}
		out = append(out, q)
		switch p.peek() {
		case ',':
			p.at++
		case ')':
			p.at++
			return out, nil
		default:
			return nil, errors.New("want , or )")
		}
	}
}

func (p *parser) param(depth int) (q Param, err error) {
	if err := p.count(); err != nil {
		return q, err
	}
	switch c := p.peek(); {
	case c == '$':
		p.at++
	case c == '*':
		p.at++
		q.Kind = Derived
	case c == '#':
		q.Kind = Ref
		var n int
		n, err = p.ref()
		q.Number = float64(n)
	case c == '\'':
		q.Kind = Text
		q.Text, err = p.text()
	case c == '.':
		q.Kind = Enum
		p.at++
		q.Text = p.take(word)
		if q.Text == "" || digit(q.Text[0]) || p.at == len(p.src) || p.src[p.at] != '.' {
			return q, errors.New("want an enumeration's word between dots")
		}
		p.at++
	case c == '(':
		q.Kind = List
		q.List, err = p.params(depth + 1)
	case upper(c):
		q.Kind = Typed
		q.Text = p.take(word)
		q.List, err = p.params(depth + 1)
	default:
		return p.number()
	}
	return q, err
}

// number takes an integer, or a real, which has a point and at least a digit before it.
func (p *parser) number() (Param, error) {
	from := p.at
	sign := func(c byte) bool { return c == '+' || c == '-' }
	if p.at < len(p.src) && sign(p.src[p.at]) {
		p.at++
	}
	if p.take(digit) == "" {
		return Param{}, errors.New("want a parameter")
	}
	kind := Integer
	if p.at < len(p.src) && p.src[p.at] == '.' {
		kind = Real
		p.at++
		p.take(digit)
		if p.at < len(p.src) && p.src[p.at] == 'E' {
			p.at++
			if p.at < len(p.src) && sign(p.src[p.at]) {
				p.at++
			}
			if p.take(digit) == "" {
				return Param{}, errors.New("an exponent without digits")
			}
		}
	}
	x, err := strconv.ParseFloat(p.src[from:p.at], 64)
	if err != nil {
		return Param{}, fmt.Errorf("%s is out of range", p.src[from:p.at])
	}
	return Param{Kind: kind, Number: x}, nil
}

// text takes a string and decodes it.
func (p *parser) text() (string, error) {
	var b []byte
	for p.at++; p.at < len(p.src); {
		c := p.src[p.at]
		rest := p.src[p.at:]
		switch {
		case strings.HasPrefix(rest, "''"), strings.HasPrefix(rest, `\\`):
			b = append(b, c)
			p.at += 2
		case c == '\'':
			p.at++
			return string(b), nil
		case strings.HasPrefix(rest, `\X2\`), strings.HasPrefix(rest, `\X4\`):
			hex, _, ends := strings.Cut(rest[4:], `\X0\`)
			if !ends {
				return "", errors.New("a coded part of a string does not end")
			}
			s, err := decode(hex, int(rest[2]-'0'))
			if err != nil {
				return "", err
			}
			b = append(b, s...)
			p.at += len(hex) + 8
		case c < ' ' || c > '~' || c == '\\':
			return "", fmt.Errorf("%q in a string", c)
		default:
			b = append(b, c)
			p.at++
		}
	}
	return "", errors.New("a string does not end")
}

// decode returns the characters that stand in hexadecimal, bytes at a time.
func decode(hex string, bytes int) (string, error) {
	n := 2 * bytes
	if len(hex) == 0 || len(hex)%n != 0 {
		return "", fmt.Errorf("%q codes no characters", hex)
	}
	var b []byte
	for ; hex != ""; hex = hex[n:] {
		r, err := strconv.ParseUint(hex[:n], 16, 32)
		if err != nil || r > utf8.MaxRune || utf16.IsSurrogate(rune(r)) {
			return "", fmt.Errorf("%q codes no character", hex[:n])
		}
		b = utf8.AppendRune(b, rune(r))
	}
	return string(b), nil
}
