package main

import (
	"fmt"
	"slices"
	"syscall"
	"time"
)

// spent is the processor time that this process has used.
func spent() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func median(d []time.Duration) time.Duration {
	d = slices.Sorted(slices.Values(d))
	return (d[(len(d)-1)/2] + d[len(d)/2]) / 2
}

func ms(d time.Duration) string {
	v := float64(d) / 1e6
	switch {
	case v < 1:
		return fmt.Sprintf("%.2f ms", v)
	case v < 10:
		return fmt.Sprintf("%.1f ms", v)
	case v < 1000:
		return fmt.Sprintf("%.0f ms", v)
	}
	return fmt.Sprintf("%.1f s", v/1000)
}
