package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"findrive/internal/cases"
	"findrive/internal/selection"
)

// rivals are the cases put to general solvers, and how many seconds of processor
// time each solver may take for one.
var rivals = []struct {
	name     string
	size     cases.Size
	families []cases.SelectionFamily
	seconds  int
}{
	{"service", cases.Service(), []cases.SelectionFamily{cases.SelectVaried, cases.SelectNominal, cases.SelectDeep, cases.SelectJustOut, cases.SelectScarce, cases.SelectClones}, 60},
	{"catalogue", cases.Catalogue(), []cases.SelectionFamily{cases.SelectVaried, cases.SelectNominal, cases.SelectDeep}, 120},
}

// outside compares whole processes. Ours reads the question from a file and proves
// the ten cheapest; the others read our tables and prove the one cheapest. Figures are
// in twenty-thousandths of a point, as fine as the whole numbers of the others allow. An argument takes the place of the number
// of seconds.
func outside() error {
	for _, solver := range []string{"minizinc", "cbc"} {
		if _, err := exec.LookPath(solver); err != nil {
			return fmt.Errorf("%s is missing: apt-get install minizinc coinor-cbc", solver)
		}
	}
	dir, err := os.MkdirTemp("", "performance")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	ask := filepath.Join(dir, "ask")
	if out, err := exec.Command("go", "build", "-o", ask, "./scripts/performance/ask").CombinedOutput(); err != nil {
		return fmt.Errorf("run this in the repository: %w\n%s", err, out)
	}
	model := filepath.Join("internal", "selection", "testdata", "cheapest.mzn")
	fmt.Println("| case | ours, ten cheapest | Gecode, one | times | CBC, one | times |")
	fmt.Println("| --- | --- | --- | --- | --- | --- |")
	for _, r := range rivals {
		seconds := r.seconds
		if len(os.Args) > 2 {
			if seconds, err = strconv.Atoi(os.Args[2]); err != nil {
				return err
			}
		}
		for _, family := range r.families {
			q := cases.Selection(r.size, family, 0)
			q.PerPoint = 20_000
			files, err := written(dir, q)
			if err != nil {
				return err
			}
			ours := process(0, 20, ask, files.question)
			if ours.err != nil {
				return ours.err
			}
			gecode := process(seconds, 1, "minizinc", "--solver", "gecode", model, files.table)
			cbc := process(seconds, 1, "cbc", files.linear, "-ratioGap", "0", "-allowableGap", "0.0005", "-solve", "-quit")
			fmt.Printf("| %s, %s | %s | %s | %s |\n", r.name, family, ms(ours.took), gecode.against(ours, "==========", gecodeCost), cbc.against(ours, "Optimal solution found", cbcCost))
		}
	}
	return nil
}

type files struct{ question, table, linear string }

func written(dir string, q *selection.Question) (files, error) {
	f := files{filepath.Join(dir, "question.json"), filepath.Join(dir, "table.dzn"), filepath.Join(dir, "table.lp")}
	question, err := json.Marshal(q)
	if err != nil {
		return f, err
	}
	table, err := selection.Tabulate(q)
	if err != nil {
		return f, err
	}
	for name, data := range map[string][]byte{f.question: question, f.table: table.MiniZinc(), f.linear: table.LP()} {
		if err := os.WriteFile(name, data, 0o600); err != nil {
			return f, err
		}
	}
	return f, nil
}

// run is a process that has ended.
type run struct {
	took time.Duration // of the processor, by it and what it started
	out  string
	err  error
}

// process runs a command several times and keeps the quickest; the processor time of
// each process is limited, unless to no seconds.
func process(seconds, runs int, name string, args ...string) run {
	var best run
	for i := range runs {
		limited := append([]string{"-c", `ulimit -t "$0"; exec "$@"`, strconv.Itoa(seconds), name}, args...)
		cmd := exec.Command("sh", limited...)
		if seconds == 0 {
			cmd = exec.Command(name, args...)
		}
		var out bytes.Buffer
		cmd.Stdout = &out
		err := cmd.Run()
		r := run{out: out.String(), err: err}
		if u, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
			r.took = time.Duration(u.Utime.Nano() + u.Stime.Nano())
		}
		if i == 0 || r.took < best.took {
			best = r
		}
	}
	return best
}

// against is a solver's time, and how many times ours it is; if it did not get to its
// end, at least how many times.
func (r run) against(ours run, end string, cost func(string) (float64, bool)) string {
	times := float64(r.took) / float64(ours.took)
	if !strings.Contains(r.out, end) {
		return fmt.Sprintf("not in %.0f s | over %.0f", r.took.Seconds(), times)
	}
	first, _, _ := strings.Cut(ours.out, " ")
	want, err := strconv.ParseFloat(first, 64)
	got, ok := cost(r.out)
	if err != nil || !ok || got < want-20 || got > want+20 {
		return fmt.Sprintf("%s, but finds %.0f where we find %.0f | %.0f", ms(r.took), got, want, times)
	}
	return fmt.Sprintf("%s | %.0f", ms(r.took), times)
}

// gecodeCost is the last cost that the model printed, in units.
func gecodeCost(out string) (float64, bool) {
	cost, found := 0.0, false
	for _, line := range strings.Fields(out) {
		if v, err := strconv.ParseFloat(line, 64); err == nil {
			cost, found = v/60, true
		}
	}
	return cost, found
}

// cbcCost is the cost of the best, which CBC prints in thousands of shares.
func cbcCost(out string) (float64, bool) {
	_, rest, ok := strings.Cut(out, "Objective value:")
	var v float64
	if _, err := fmt.Sscan(rest, &v); !ok || err != nil {
		return 0, false
	}
	return v * 1000 / 60, true
}
