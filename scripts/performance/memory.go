package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"syscall"
	"time"

	"findrive/internal/cases"
	"findrive/internal/design"
)

// memory tells the most memory that a process holds that puts one question and ends,
// every family at each size. An argument is how long one search may go on, by the clock;
// 20s if there is none.
func memory() error {
	longest := "20s"
	if len(os.Args) > 2 {
		longest = os.Args[2]
	}
	if _, err := time.ParseDuration(longest); err != nil {
		return err
	}
	fmt.Print("| family | cupboard | service | catalogue |\n| --- | --- | --- | --- |\n")
	for _, family := range cases.Families() {
		if err := held(string(family), longest); err != nil {
			return err
		}
	}
	return nil
}

// held prints the row of a family.
func held(family, longest string) error {
	self, err := os.Executable()
	if err != nil {
		return err
	}
	fmt.Printf("| %s |", family)
	for i := range sized {
		c := exec.Command(self, "one", strconv.Itoa(i), family, longest)
		c.Stderr = os.Stderr
		said, err := c.Output()
		if err != nil {
			return fmt.Errorf("%s of %s: %w", family, sized[i].name, err)
		}
		u, ok := c.ProcessState.SysUsage().(*syscall.Rusage)
		if !ok {
			return errors.New("this system does not tell the memory of a process")
		}
		fmt.Printf(" %d MB%s |", (u.Maxrss+512)/1024, strings.TrimSpace(string(said)))
	}
	fmt.Println()
	return nil
}

// one puts one question, and says if it was not closed.
func one() error {
	if len(os.Args) != 5 {
		return errors.New("one is for memory to call")
	}
	i, err := strconv.Atoi(os.Args[2])
	if err != nil || i < 0 || i >= len(sized) {
		return errors.New("one takes the number of a size")
	}
	family, size := os.Args[3], sized[i].size
	longest, err := time.ParseDuration(os.Args[4])
	if err != nil {
		return err
	}
	cup, b := cases.Make(size, cases.Family(family), 1)
	ctx, cancel := context.WithTimeout(context.Background(), longest)
	defer cancel()
	r, err := design.Find(ctx, cup, b, design.Options{Threads: threads})
	if err == nil && r.Status == design.StoppedEarly {
		fmt.Println("*")
	}
	return err
}
