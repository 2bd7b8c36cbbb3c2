package tomledit

import (
	"fmt"
	"slices"
)

// Rename gives a key or a table another name wherever the text has it, in headers, in keys with
// dots and in inline tables, and leaves all else as it is. The errors are those of Apply; it is one
// as well that the key is not there, or that its new name is taken.
func Rename(file string, text []byte, name string, key ...string) ([]byte, error) {
	return changed(file, text, func(o *outline) (*outline, error) {
		key, err := o.resolve(key)
		if err != nil {
			return nil, err
		}
		now := append(slices.Clone(key[:len(key)-1]), name)
		switch {
		case o.has(key) && name == key[len(key)-1]:
			return o, nil
		case !o.has(key) || o.has(now):
			return nil, fmt.Errorf("%s cannot be named %s: there must be the one and not the other", shown(key), shown(now))
		}
		after, err := outlineOf(o.renamed(key, name))
		if err != nil || !slices.EqualFunc(saidAs(o.says(), key, name), after.says(), alike) {
			return nil, fmt.Errorf("%s cannot be named %s without changing something else: do it by hand", shown(key), shown(now))
		}
		return after, nil
	})
}

// has reports whether there is a key or table.
func (o *outline) has(key []string) bool { return o.find(key) != nil || o.isTable(key) }

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
