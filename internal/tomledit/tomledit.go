// Package tomledit changes keys of a TOML text and leaves all else as it is, byte for
// byte: remarks, order, blank lines, the way values are written. What people have
// written stays theirs.
//
//	value.go     values as TOML writes them
//	outline.go   where every key and table of a text stands
//	insert.go    where a new key goes
//	remove.go    what goes with a key
//	rename.go    another name for a key or table
//	exact.go     that a text says just what it should afterwards
package tomledit

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// Edit is a change of one key.
type Edit struct {
	// Key is the way from the root, table by table: frame, length or pulley, disc-80,
	// count. One of an array of tables [[tie]] is named by its number from 0, or by the
	// text under its key name.
	Key []string
	// Value is what the key is set to; the zero value takes the key away, and if it is
	// a table, all that is in it. To take away what is not there changes nothing.
	Value Value
}

// Set is an edit that sets a key, and adds it and the tables it is in if need be.
func Set(v Value, key ...string) Edit { return Edit{Key: key, Value: v} }

// Remove is an edit that takes a key or table away.
func Remove(key ...string) Edit { return Edit{Key: key} }

// String is the edit as people would write it: [frame] length = "280 mm".
func (e Edit) String() string {
	if len(e.Key) == 0 {
		return ""
	}
	out, last := "", len(e.Key)-1
	if last > 0 {
		out = "[" + written(e.Key[:last]) + "] "
	}
	out += written(e.Key[last:])
	if e.Value.IsZero() {
		return "leave out " + out
	}
	return out + " = " + e.Value.String()
}

// written are the parts of a key as TOML writes them.
func written(parts []string) string {
	var out []string
	for _, p := range parts {
		if tomlfile.Bare(p) {
			out = append(out, p)
		} else {
			out = append(out, Text(p).String())
		}
	}
	return strings.Join(out, ".")
}

const byteOrderMark = "\ufeff"

// Apply makes edits one after the other. file is the text's name in messages. The
// error is tomlfile.Problems for a text that is no TOML, or says which edit cannot be
// made; the text is then nil. The text that was given is not touched.
func Apply(file string, text []byte, edits ...Edit) ([]byte, error) {
	if len(edits) == 0 {
		return slices.Clone(text), nil
	}
	return changed(file, text, func(o *outline) (_ *outline, err error) {
		for _, e := range edits {
			if o, err = o.edited(e); err != nil {
				return nil, err
			}
		}
		return o, nil
	})
}

// changed is a text with what is done to its outline.
func changed(file string, text []byte, by func(*outline) (*outline, error)) ([]byte, error) {
	body, marked := bytes.CutPrefix(text, []byte(byteOrderMark))
	if err := readable(file, body); err != nil {
		return nil, err
	}
	o, err := outlineOf(body)
	if err == nil {
		o, err = by(o)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	body = o.text
	if err := readable(file, body); err != nil {
		return nil, fmt.Errorf("%s: the changes cannot be written so that the file can be read: %w", file, err)
	}
	if marked {
		body = append([]byte(byteOrderMark), body...)
	}
	return body, nil
}

// edited is the outline after one edit.
func (o *outline) edited(e Edit) (*outline, error) {
	key, err := o.resolve(e.Key)
	if err != nil {
		return nil, err
	}
	var text []byte
	if e.Value.IsZero() {
		text = o.remove(key)
	} else if text, err = o.set(key, e.Value); err != nil {
		return nil, err
	}
	after, err := outlineOf(text)
	if err != nil || !exact(o, after, key, e.Value) {
		return nil, fmt.Errorf("%s cannot be written without changing something else: write it by hand", e)
	}
	return after, nil
}

// span is a piece of the text.
type span struct{ from, to int }

// spliced is the text with a piece put in the place of another.
func spliced(text []byte, at span, instead string) []byte {
	out := make([]byte, 0, len(text)+len(instead))
	return append(append(append(out, text[:at.from]...), instead...), text[at.to:]...)
}

// shown is a key as messages show it.
func shown(key []string) string { return units.Quoted(strings.Join(key, ".")) }
