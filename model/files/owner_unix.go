//go:build unix

package files

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// keepOwner gives a new file the owner and group of the one that it replaces, as far
// as the person may: only an administrator may give files away.
func keepOwner(f *os.File, like fs.FileInfo) error {
	old, ok := like.Sys().(*syscall.Stat_t)
	if !ok {
		return nil
	}
	err := f.Chown(int(old.Uid), int(old.Gid))
	if errors.Is(err, fs.ErrPermission) {
		err = f.Chown(-1, int(old.Gid))
	}
	if errors.Is(err, fs.ErrPermission) {
		return nil
	}
	return err
}

func unsyncable(err error) bool { return errors.Is(err, syscall.EINVAL) }
