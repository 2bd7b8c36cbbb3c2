package tomledit

import (
	"bytes"
	"fmt"
	"slices"
)

// Rename gives a key or a table another name wherever the text has it, in headers, in keys with
// dots and in inline tables, and leaves all else as it is. The errors are those of Apply; it is one
// as well that the key is not there, or that its new name is taken.
func Rename(file string, text []byte, name string, key ...string) ([]byte, error) {
	body, marked := bytes.CutPrefix(text, []byte(byteOrderMark))
	if err := readable(file, body); err != nil {
		return nil, err
	}
	o, err := outlineOf(body)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	if key, err = o.resolve(key); err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	now := append(slices.Clone(key[:len(key)-1]), name)
	switch {
	case o.find(key) == nil && !o.isTable(key):
		return nil, fmt.Errorf("%s: there is no %s", file, shown(key))
	case name == key[len(key)-1]:
		return slices.Clone(text), nil
	case o.find(now) != nil || o.isTable(now):
		return nil, fmt.Errorf("%s: there is a %s already", file, shown(now))
	}
	body = o.renamed(key, name)
	err = readable(file, body)
	after, ill := outlineOf(body)
	if err != nil || ill != nil || !slices.EqualFunc(saidAs(o.says(), key, name), after.says(), alike) {
		return nil, fmt.Errorf("%s: %s cannot be named %s without changing something else: do it by hand", file, shown(key), shown([]string{name}))
	}
	if marked {
		body = append([]byte(byteOrderMark), body...)
	}
	return body, nil
}

// renamed is the text with another name for a key.
func (o *outline) renamed(key []string, name string) []byte {
	last := len(key) - 1
	var places []span
	for _, s := range o.sections {
		if under(s.key, key) {
			places = append(places, s.at[last])
		}
	}
	for _, e := range o.entries {
		if i := last - (len(e.key) - len(e.at)); under(e.key, key) && i >= 0 {
			places = append(places, e.at[i])
		}
	}
	slices.SortFunc(places, func(a, b span) int { return b.from - a.from }) // from the end, so that those before keep their place
	text := o.text
	for _, p := range places {
		text = spliced(text, p, written([]string{name}))
	}
	return text
}

// saidAs is what a text says with another name for a key.
func saidAs(all []said, key []string, name string) []said {
	for i := range all {
		if under(all[i].key, key) {
			all[i].key = slices.Clone(all[i].key)
			all[i].key[len(key)-1] = name
		}
	}
	return all
}
