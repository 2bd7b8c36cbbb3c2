// Command ask is our side of the comparison with general solvers: a question of
// selection alone in a file, and the cost and the stages of the cheapest drives on the
// terminal.
package main

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"os"

	"findrive/internal/selection"
)

func main() {
	if err := ask(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func ask() error {
	if len(os.Args) != 2 {
		return fmt.Errorf("use: ask FILE")
	}
	data, err := os.ReadFile(os.Args[1])
	if err != nil {
		return err
	}
	var q selection.Question
	if err := json.Unmarshal(data, &q); err != nil {
		return err
	}
	a, err := selection.Solve(context.Background(), &q)
	if err != nil {
		return err
	}
	out := bufio.NewWriter(os.Stdout)
	for _, d := range a.Drives {
		fmt.Fprintln(out, d.Cost, d.Stages)
	}
	if !a.Proved {
		fmt.Fprintln(out, "not proved")
	}
	return out.Flush()
}
