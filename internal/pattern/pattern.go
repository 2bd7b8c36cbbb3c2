// Package pattern has regular expressions that are made ready when they are first used. The
// program has some two hundred for reading lists and notes, of which most runs use none: to make
// all of them ready took a quarter of the time in which a short command is done, and a fifth of a
// second in a browser.
package pattern

import (
	"regexp"
	"sync"
)

// Pattern is a regular expression in the syntax of package regexp, of whose methods it has those
// that are used, with the same meaning. It may be used by several goroutines at once.
type Pattern struct{ ready func() *regexp.Regexp }

// Must is the pattern of some text. It panics when it is first used if that is none.
func Must(text string) *Pattern {
	return &Pattern{sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })}
}

// FindAllString is the method of that name of regexp.Regexp.
func (p *Pattern) FindAllString(s string, n int) []string { return p.ready().FindAllString(s, n) }

// FindAllStringIndex is the method of that name of regexp.Regexp.
func (p *Pattern) FindAllStringIndex(s string, n int) [][]int {
	return p.ready().FindAllStringIndex(s, n)
}

// FindAllStringSubmatch is the method of that name of regexp.Regexp.
func (p *Pattern) FindAllStringSubmatch(s string, n int) [][]string {
	return p.ready().FindAllStringSubmatch(s, n)
}

// FindAllStringSubmatchIndex is the method of that name of regexp.Regexp.
func (p *Pattern) FindAllStringSubmatchIndex(s string, n int) [][]int {
	return p.ready().FindAllStringSubmatchIndex(s, n)
}

// FindAllSubmatchIndex is the method of that name of regexp.Regexp.
func (p *Pattern) FindAllSubmatchIndex(b []byte, n int) [][]int {
	return p.ready().FindAllSubmatchIndex(b, n)
}

// FindString is the method of that name of regexp.Regexp.
func (p *Pattern) FindString(s string) string { return p.ready().FindString(s) }

// FindStringIndex is the method of that name of regexp.Regexp.
func (p *Pattern) FindStringIndex(s string) []int { return p.ready().FindStringIndex(s) }

// FindStringSubmatch is the method of that name of regexp.Regexp.
func (p *Pattern) FindStringSubmatch(s string) []string { return p.ready().FindStringSubmatch(s) }

// FindStringSubmatchIndex is the method of that name of regexp.Regexp.
func (p *Pattern) FindStringSubmatchIndex(s string) []int {
	return p.ready().FindStringSubmatchIndex(s)
}

// FindSubmatch is the method of that name of regexp.Regexp.
func (p *Pattern) FindSubmatch(b []byte) [][]byte { return p.ready().FindSubmatch(b) }

// FindSubmatchIndex is the method of that name of regexp.Regexp.
func (p *Pattern) FindSubmatchIndex(b []byte) []int { return p.ready().FindSubmatchIndex(b) }

// Match is the method of that name of regexp.Regexp.
func (p *Pattern) Match(b []byte) bool { return p.ready().Match(b) }

// MatchString is the method of that name of regexp.Regexp.
func (p *Pattern) MatchString(s string) bool { return p.ready().MatchString(s) }

// ReplaceAllString is the method of that name of regexp.Regexp.
func (p *Pattern) ReplaceAllString(s, by string) string { return p.ready().ReplaceAllString(s, by) }

// ReplaceAllStringFunc is the method of that name of regexp.Regexp.
func (p *Pattern) ReplaceAllStringFunc(s string, by func(string) string) string {
	return p.ready().ReplaceAllStringFunc(s, by)
}

// Split is the method of that name of regexp.Regexp.
func (p *Pattern) Split(s string, n int) []string { return p.ready().Split(s, n) }
