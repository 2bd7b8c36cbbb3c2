package main

import (
	"bytes"
	"context"
	"flag"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/certificate"
	"findrive/internal/demo"
	"findrive/internal/hoist"
	"findrive/internal/measure"
	"findrive/internal/parts"
	"findrive/internal/plan"
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

// remedy are words by which a message says what would be right.
var remedy = regexp.MustCompile(`\b(write|put|save|leave|take|give|name|make|choose|check|measure|count|delete|type|close|use|it can be|can be \d|it must be|must (be|have|stand)|is needed|are needed|needs|did you mean|is written like|has to be|the most (is|are)|the least is|belongs?|has holders for|is there already)\b`)

// nowhere are messages about what is not in a file, which has no line.
var nowhere = regexp.MustCompile(`\b(is missing|there (is|are) no|has no|no row|this is (a|an|not) |is empty|not JSON, or not all|is not a findrive (certificate|plan))\b`)

// Whatever slips into a file, its reader ends with a file that is right or with mistakes
// that each have a file, a line and words that say what would be right; and the program
// with the exit code for that.
func TestMutations(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	lift, err := os.ReadFile("../../internal/report/testdata/lift.json")
	require.NoError(t, err)
	calibration := []byte("# learned\n[motor.slow]\ncounted_speed = \"41 turns/s\"\n")
	list := []byte("kind,name,outside,bore,count,where\npulley,big,50 mm,5 mm,20,tray 3\npulley,small,10 mm,2 mm,lots,tray 4\nband,no-18,,,30,box\nmotor,slow,,2 mm,8,box\n")
	kits := []byte("where,kind,part,size,each tray,trays,take,picked,returned\nA,pulley,red,40 mm,1,8,8,8,7\nB,band,no-18,,2,8,16,16,15\n")
	offers := []byte("part,supplier,pack,pack_price,carriage\npulley disc-80,north,10,4.50,3.95\nband no-24,south,100,2.10,0\n")
	class := []byte("Table 1: 9 turns in 30 s\nTable 2: 11 turns in 30 s\nTable 3: 8 turns in 30 s\n")
	where := filepath.Join(t.TempDir(), "plan.json")
	code, _, said := command("class", "--groups", "2", "-o", where)
	require.Zero(t, code, said)
	shared, err := os.ReadFile(where)
	require.NoError(t, err)
	for i, c := range []struct {
		name string
		data []byte
		read func([]byte) error
		args []string // by which the program reads it from standard input
	}{
		{"cupboard", demo.Cupboard(), func(d []byte) error { _, err := parts.Read("f", d); return err }, []string{"propose", "-c", "-"}},
		{"starter cupboard", demo.StarterCupboard(), func(d []byte) error { _, err := parts.Read("f", d); return err }, []string{"ideas", "-c", "-"}},
		{"brief", demo.Brief(), func(d []byte) error { _, err := brief.ReadFor("f", d, cup); return err }, []string{"propose", "-b", "-"}},
		{"prices", demo.Prices(), func(d []byte) error { _, err := prices.Read("f", d, cup); return err }, []string{"shop", "-p", "-"}},
		{"price sheet", offers, func(d []byte) error { _, err := prices.Read("f", d, cup); return err }, []string{"shop", "-p", "-"}},
		{"drive", demo.Drive(), func(d []byte) error { _, err := built.Read("f", d, cup); return err }, []string{"try", "-"}},
		{"hoist", demo.Hoist(), func(d []byte) error { _, err := hoist.ReadBrief("f", d, cup); return err }, []string{"hoist", "-b", "-"}},
		{"calibration", calibration, func(d []byte) error { _, err := cup.Calibrate("f", d); return err }, []string{"propose", "--calibration", "-"}},
		{"certificate", lift, func(d []byte) error { _, err := certificate.Read(d); return err }, []string{"try", "--from", "-"}},
		{"plan", shared, func(d []byte) error { _, _, err := plan.Read(d); return err }, []string{"sheet", "--plan", "-"}},
		{"stock list", list, func(d []byte) error { _, err := stocktake.Read("f", d, stocktake.Options{}); return err }, []string{"stock", "-"}},
		{"kit list", kits, func(d []byte) error {
			_, err := stocktake.Back(stocktake.Sheet{Name: "f", Data: d}, nil, nil, "")
			return err
		}, []string{"stock", "back", "-"}},
		{"class", class, func(d []byte) error { _, err := measure.ReadClass("f", d); return err }, []string{"measure", "--class", "-"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(15, uint64(i)))
			require.NoError(t, c.read(c.data))
			refused, general := 0, 0
			vague := map[string]bool{}
			for n := range *mutations {
				data := mutated(r, c.data)
				err := c.read(data)
				if err == nil {
					continue
				}
				refused++
				if problems, is := err.(tomlfile.Problems); is {
					for _, p := range problems {
						require.Equal(t, "f", p.File)
						if strings.Contains(p.Text, "this cannot be read") {
							general++
						}
					}
				}
				for line := range strings.SplitSeq(err.Error(), "\n") {
					told(t, n, line, vague)
				}
				if n%20 == 0 { // the same by the program: nothing of it is worked out
					code, stdout, said := commandOn(data, c.args...)
					require.Equal(t, exitInput, code, "%d: %s", n, said)
					require.Empty(t, stdout)
					require.Contains(t, said, "standard input")
				}
			}
			assert.Empty(t, slices.Sorted(maps.Keys(vague)), "no remedy or no line")
			t.Logf("%d of %d refused, %d with general advice", refused, *mutations, general)
			assert.LessOrEqual(t, general, *mutations/500, "lines with general advice")
			if c.name != "stock list" {
				require.Positive(t, refused)
			}
		})
	}
}

// told holds a message to what people need, and keeps those that fall short, without what
// differs from case to case.
func told(t *testing.T, n int, say string, vague map[string]bool) {
	require.NotEmpty(t, say)
	require.False(t, inside.MatchString(say), "%d: %s", n, say)
	require.False(t, strings.ContainsFunc(strings.ReplaceAll(say, "\n", ""), func(r rune) bool { return !unicode.IsPrint(r) }), "%d: %q", n, say)
	placed := regexp.MustCompile(`(:\d+(:\d+)?: |\b(line|row|rows) \d+)`).MatchString(say) || nowhere.MatchString(say) || strings.Contains(say, "problems more")
	if !placed || !remedy.MatchString(say) && !strings.Contains(say, "problems more") {
		vague[say] = true
	}
}

// commandOn runs the program on standard input.
func commandOn(data []byte, args ...string) (code int, stdout, stderr string) {
	var out, said strings.Builder
	code = run(context.Background(), args, bytes.NewReader(data), &out, &said)
	return code, out.String(), said.String()
}
