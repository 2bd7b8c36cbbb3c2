package certificate

import (
	"encoding/json"
	"strings"
	"testing"
)

// FuzzRead reads any bytes as a certificate: refused in one line, or read, and then
// written again it is read as the same.
func FuzzRead(f *testing.F) {
	for _, name := range []string{"lift.json", "vehicle.json", "none.json"} {
		f.Add(file(f, name))
	}
	f.Add([]byte(`{"schema":2,"kind":"findrive certificate","brief":{"sets":1,"frame":{"length_mm":100,"height_mm":60,"depth_mm":50}},"proposals":null}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := Read(data)
		if (c == nil) == (err == nil) {
			t.Fatal("either a certificate or an error")
		}
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n\r\x1b") || len(err.Error()) > 2000 {
				t.Fatalf("%q", err)
			}
			return
		}
		once, err := json.Marshal(c)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Read(once)
		if err != nil {
			t.Fatalf("%v\n%s", err, once)
		}
		if twice, err := json.Marshal(again); err != nil || string(twice) != string(once) {
			t.Fatalf("%v\n%s\n%s", err, once, twice)
		}
	})
}
