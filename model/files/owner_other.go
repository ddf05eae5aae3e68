//go:build !unix

package files

import (
	"errors"
	"io/fs"
	"os"
)

func keepOwner(*os.File, fs.FileInfo) error { return nil }

// unsyncable reports whether the system has no way to sync a folder, as Windows.
func unsyncable(err error) bool { return errors.Is(err, fs.ErrPermission) }
