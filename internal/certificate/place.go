package certificate

import (
	"bytes"
	"encoding/json"
)

// lineOf is the line, from 1, at which the value at a path of JSON begins; of a path that
// leads nowhere, that of the last value on the way.
func lineOf(data []byte, path []any) int {
	d := json.NewDecoder(bytes.NewReader(data))
	at := 0
	for {
		token, err := d.Token()
		if err != nil {
			break
		}
		at = int(d.InputOffset()) - 1
		open, is := token.(json.Delim)
		if len(path) == 0 || !is || !into(d, open, path[0]) {
			break
		}
		path = path[1:]
	}
	return lineAt(data, at)
}

// into goes on to the value of a key or at a place in a list; without one, it has read
// past the others.
func into(d *json.Decoder, open json.Delim, step any) bool {
	for i := 0; d.More(); i++ {
		found := open == '[' && step == i
		if open == '{' {
			key, err := d.Token()
			if err != nil {
				return false
			}
			found = step == key
		}
		if found {
			return true
		}
		var other json.RawMessage
		if d.Decode(&other) != nil {
			return false
		}
	}
	return false
}
