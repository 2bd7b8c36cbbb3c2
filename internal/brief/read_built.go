package brief

import "findrive/internal/tomlfile"

// ReadBuiltFrame reads the table [frame] of a drive that is built, as Read does that of
// a brief.
func ReadBuiltFrame(t *tomlfile.Table) Frame { return readFrame(t) }
