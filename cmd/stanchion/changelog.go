//go:build docs

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// packager stands in a package's list of changes.
const packager = "The stanchion authors <stanchion@example.invalid>"

// writeChangelog writes what packages bring of changes: the project's own list, and the
// packaging's entry for this version, in the form that goreleaser's package maker reads.
func writeChangelog(dir, version string, date time.Time) error {
	all, err := os.ReadFile(".github/CHANGELOG.md")
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(dir, "changelog"), all, 0o644); err != nil {
		return err
	}
	entry := fmt.Sprintf(`- semver: %q
  date: %s
  packager: %q
  deb:
    urgency: low
    distributions: [unstable]
  changes:
    - note: %q
`, packaged(version), date.Format(time.RFC3339), packager, "Package of version "+version+"; changelog.gz has what is new in it.")
	return os.WriteFile(filepath.Join(dir, "changelog.yaml"), []byte(entry), 0o644)
}

// packaged is a version as a Debian package has it: "1.2.0-next" is older than "1.2.0", so its hyphen is a tilde there.
func packaged(version string) string { return strings.Replace(version, "-", "~", 1) + "-1" }
