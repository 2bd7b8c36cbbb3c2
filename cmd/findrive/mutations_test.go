package main

import (
	"flag"
	"math/rand/v2"
	"os"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/certificate"
	"findrive/internal/demo"
	"findrive/internal/hoist"
	"findrive/internal/parts"
	"findrive/internal/prices"
	"findrive/internal/stocktake"
	"findrive/internal/tomlfile"
)

var mutations = flag.Int("mutations", 200, "how many changed inputs each reader is given")

// mutated is a file with one to three mistakes such as a slip of the keyboard or the
// mouse makes.
func mutated(r *rand.Rand, data []byte) []byte {
	signs := []string{"\"", "'", "[", "]", "{", "}", "=", ":", ",", ";", ".", "#", "\n", "\\", " ", "0", "-", "9,5", "yes", "mm", "é", "“", "\x00", "\xff", "1e999", "nan", "\"\"\""}
	out := string(data)
	for range 1 + r.IntN(3) {
		if out == "" {
			break
		}
		at := r.IntN(len(out))
		end := min(len(out), at+1+r.IntN(8))
		lines := strings.SplitAfter(out, "\n")
		switch k := r.IntN(len(lines)); r.IntN(7) {
		case 0:
			out = out[:at] + out[end:]
		case 1:
			out = out[:at] + signs[r.IntN(len(signs))] + out[at:]
		case 2:
			out = out[:at] + signs[r.IntN(len(signs))] + out[at+1:]
		case 3: // a line twice
			lines[k] += lines[k]
			out = strings.Join(lines, "")
		case 4: // a line lost
			lines[k] = ""
			out = strings.Join(lines, "")
		case 5: // two lines change places
			other := r.IntN(len(lines))
			lines[k], lines[other] = lines[other], lines[k]
			out = strings.Join(lines, "")
		case 6: // a sign lost that means something
			if marks := regexp.MustCompile(`["\[\]=,{}:]`).FindAllStringIndex(out, -1); len(marks) > 0 {
				m := marks[r.IntN(len(marks))]
				out = out[:m[0]] + out[m[1]:]
			}
		}
	}
	return []byte(out)
}

// inside are words of how the program is made, which say nothing to its users.
var inside = regexp.MustCompile(`json:|Go (value|struct)|toml:|runtime error|unmarshal|strconv|invalid syntax|unexpected EOF|%!|<nil>|interface`)

// Whatever slips into a file, its reader ends with a file that is right or with mistakes
// that each have a place and words.
func TestMutations(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	lift, err := os.ReadFile("../../internal/report/testdata/lift.json")
	require.NoError(t, err)
	calibration := []byte("# learned\n[motor.slow]\ncounted_speed = \"41 turns/s\"\n")
	list := []byte("kind,name,outside,bore,count,where\npulley,big,50 mm,5 mm,20,tray 3\npulley,small,10 mm,2 mm,lots,tray 4\nband,no-18,,,30,box\nmotor,slow,,2 mm,8,box\n")
	for i, c := range []struct {
		name string
		data []byte
		read func([]byte) error
	}{
		{"cupboard", demo.Cupboard(), func(d []byte) error { _, err := parts.Read("f", d); return err }},
		{"starter cupboard", demo.StarterCupboard(), func(d []byte) error { _, err := parts.Read("f", d); return err }},
		{"brief", demo.Brief(), func(d []byte) error { _, err := brief.ReadFor("f", d, cup); return err }},
		{"prices", demo.Prices(), func(d []byte) error { _, err := prices.Read("f", d, cup); return err }},
		{"drive", demo.Drive(), func(d []byte) error { _, err := built.Read("f", d, cup); return err }},
		{"hoist", demo.Hoist(), func(d []byte) error { _, err := hoist.ReadBrief("f", d, cup); return err }},
		{"calibration", calibration, func(d []byte) error { _, err := cup.Calibrate("f", d); return err }},
		{"certificate", lift, func(d []byte) error { _, err := certificate.Read(d); return err }},
		{"stock list", list, func(d []byte) error { _, err := stocktake.Read("f", d, stocktake.Options{}); return err }},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(15, uint64(i)))
			require.NoError(t, c.read(c.data))
			refused, vague := 0, 0
			for n := range *mutations {
				data := mutated(r, c.data)
				err := c.read(data)
				if err == nil {
					continue
				}
				refused++
				say := err.Error()
				require.NotEmpty(t, say)
				require.False(t, inside.MatchString(say), "%d: %s", n, say)
				require.False(t, strings.ContainsFunc(strings.ReplaceAll(say, "\n", ""), func(r rune) bool { return !unicode.IsPrint(r) }), "%d: %q", n, say)
				problems, is := err.(tomlfile.Problems)
				if !is {
					continue
				}
				for _, p := range problems {
					require.Equal(t, "f", p.File)
					require.NotEmpty(t, p.Text)
					if strings.Contains(p.Text, "this is not TOML") {
						vague++
						if vague <= 12 {
							t.Logf("%d: %v", n, p)
						}
					}
				}
			}
			t.Logf("%d of %d refused, %d in words of the TOML reader", refused, *mutations, vague)
			if c.name != "stock list" {
				require.Positive(t, refused)
			}
		})
	}
}
