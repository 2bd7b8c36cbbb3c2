package main

import (
	"io"
	"runtime/debug"

	"github.com/spf13/cobra"

	"findrive/internal/notices"
)

func noticesCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "notices",
		Short:   "the licences of the libraries it is built on",
		Long:    "notices prints each library that this program is built on, with its licence.",
		Example: "  findrive notices > notices.txt",
		Args:    alone("write findrive notices"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return answer(cmd.OutOrStdout(), func(page io.Writer) error {
				_, err := io.WriteString(page, notices.Text())
				return err
			})
		},
	}
}

const release = "1.0"

// version is the release and the commit it was built from, as far as the build knows it.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return release + " (commit not known)"
	}
	return versionOf(info.Main.Version, info.Settings)
}

// versionOf says it of what a build knows: the commit of the folder it was built in, or the
// version under which the source was fetched, which has the commit in it or is a release.
func versionOf(fetched string, settings []debug.BuildSetting) string {
	commit, day, changed := "", "", ""
	for _, s := range settings {
		switch s.Key {
		case "vcs.revision":
			commit = s.Value
		case "vcs.time":
			day = s.Value
		case "vcs.modified":
			if s.Value == "true" {
				changed = ", with changes"
			}
		}
	}
	if commit == "" && fetched != "" && fetched != "(devel)" {
		return release + " (" + fetched + ")"
	}
	if commit == "" {
		return release + " (commit not known)"
	}
	return release + " (commit " + commit + " of " + day + changed + ")"
}
