package measure

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"findrive/internal/units"
)

// GroupCount is what one group counted or timed.
type GroupCount struct {
	Group   string
	Reading Reading
	Line    int // in the file, from 1
}

// mostGroups is more groups than a school has.
const mostGroups = 200

// ReadClass reads what the groups of a class counted, a line for each count:
//
//	Table 1: 9 turns in 30 s      the group, and the count in words
//	Table 2, 3 m in 12 s          the same, with a comma, a semicolon or a tab
//	Table 3; 10; 30               the group, turns and seconds
//
// The first line may name the columns: group, turns or metres, seconds, in any order; then
// metres in place of turns are a run that was timed. Empty lines and lines that begin with
// # are passed over. The error has every mistake, each with its line.
func ReadClass(name string, data []byte) ([]GroupCount, error) {
	var out []GroupCount
	var mistakes []error
	columns := []string{"group", "turns", "seconds"}
	text := strings.TrimPrefix(string(data), "\ufeff")
	first := true
	for i, line := range strings.Split(strings.ReplaceAll(text, "\r", "\n"), "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		cells := cellsOf(line)
		if names := columnNames(cells); first && names != nil {
			columns, first = names, false
			continue
		}
		first = false
		g, err := groupCount(cells, columns)
		if err != nil {
			mistakes = append(mistakes, fmt.Errorf("%s:%d: %w", name, i+1, err))
			continue
		}
		g.Line = i + 1
		out = append(out, g)
	}
	switch {
	case len(mistakes) > 0:
		return nil, errors.Join(mistakes...)
	case len(out) == 0:
		return nil, fmt.Errorf("%s: there are no counts in it: write a line for each group, such as \"Table 1: 9 turns in 30 s\"", name)
	case len(out) > mostGroups:
		return nil, fmt.Errorf("%s: there are %d counts in it, and no class has more than %d", name, len(out), mostGroups)
	}
	return out, nil
}

// cellsOf are the cells of a line: at tabs, or else at semicolons, or else at commas that
// are not between two digits; and a group's name may end in a colon.
func cellsOf(line string) []string {
	var cells []string
	switch {
	case strings.Contains(line, "\t"):
		cells = strings.Split(line, "\t")
	case strings.Contains(line, ";"):
		cells = strings.Split(line, ";")
	default:
		from := 0
		for i := range len(line) {
			between := i > 0 && i+1 < len(line) && digit(line[i-1]) && digit(line[i+1])
			if line[i] == ',' && (!between || strings.Count(line, ",") > 1) {
				cells, from = append(cells, line[from:i]), i+1
			}
		}
		cells = append(cells, line[from:])
	}
	if len(cells) == 1 {
		if group, count, ok := strings.Cut(line, ":"); ok {
			cells = []string{group, count}
		}
	}
	for i := range cells {
		cells[i] = strings.TrimSpace(strings.Trim(strings.TrimSpace(cells[i]), `"`))
	}
	return cells
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

// columnNames are the columns of a first line that names them; nil if it does not.
func columnNames(cells []string) []string {
	var out []string
	known := 0
	for _, c := range cells {
		name := ""
		switch c = strings.ToLower(c); {
		case strings.HasPrefix(c, "group"), strings.HasPrefix(c, "table"), strings.HasPrefix(c, "team"), c == "name", c == "who":
			name = "group"
		case strings.HasPrefix(c, "turn"), c == "count", strings.HasPrefix(c, "counted"):
			name = "turns"
		case c == "m", strings.HasPrefix(c, "met"), strings.HasPrefix(c, "distance"), strings.HasPrefix(c, "way"):
			name = "metres"
		case c == "s", strings.HasPrefix(c, "sec"), strings.HasPrefix(c, "time"):
			name = "seconds"
		}
		if name != "" {
			known++
		}
		out = append(out, name)
	}
	if known < 2 {
		return nil
	}
	return out
}

func groupCount(cells, columns []string) (GroupCount, error) {
	if len(cells) < 2 {
		return GroupCount{}, fmt.Errorf(`%s has no count: write for example "Table 1: 9 turns in 30 s" or "Table 1, 9, 30"`, units.Quoted(strings.Join(cells, " ")))
	}
	g := GroupCount{Group: cells[0]}
	if r, err := inWords(cells[1]); err == nil {
		g.Reading = r
		return g, g.named()
	} else if len(cells) == 2 && len(columns) < 4 && strings.Contains(cells[1], " ") {
		return g, err
	}
	var count, time, kind string
	for i, c := range columns {
		if i >= len(cells) {
			break
		}
		switch c {
		case "group":
			g.Group = cells[i]
		case "turns", "metres":
			if cells[i] != "" {
				count, kind = strings.ReplaceAll(cells[i], ",", "."), c
			}
		case "seconds":
			time = strings.ReplaceAll(cells[i], ",", ".")
		}
	}
	if _, err := strconv.ParseFloat(time, 64); err == nil {
		time += " s"
	}
	var err error
	switch {
	case count == "" || time == "":
		return g, fmt.Errorf(`%s: both a count and its seconds are needed: write for example "Table 1, 9, 30"`, units.Quoted(g.Group))
	case kind == "metres":
		if _, bare := strconv.ParseFloat(count, 64); bare == nil {
			count += " m"
		}
		g.Reading, err = ReadTravel(count + " in " + time)
	default:
		g.Reading, err = ReadTurns(strings.TrimSuffix(count, " turns") + " turns in " + time)
	}
	if err != nil {
		return g, err
	}
	return g, g.named()
}

func inWords(text string) (Reading, error) {
	r, turnsErr := ReadTurns(text)
	if turnsErr == nil {
		return r, nil
	}
	if r, err := ReadTravel(text); err == nil {
		return r, nil
	}
	return r, turnsErr
}

// mostName is as long as a group's name may be.
const mostName = 40

func (g *GroupCount) named() error {
	switch n := len([]rune(g.Group)); {
	case n == 0:
		return fmt.Errorf("the group has no name")
	case n > mostName:
		return fmt.Errorf("a group's name of %d letters is too long: at most %d", n, mostName)
	}
	return nil
}
