package logged

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"stanchion/model/files"
	"stanchion/model/toml"
)

// PathFor is the file in which the columns that a person named are kept: "x.toml" has "x.logger.toml" beside it.
func PathFor(carFile string) string {
	if real, err := files.Resolve(carFile); err == nil {
		carFile = real
	}
	return strings.TrimSuffix(carFile, filepath.Ext(carFile)) + ".logger.toml"
}

// mostKeptBytes is how large that file may be.
const mostKeptBytes = 1 << 20

// KeptColumns reads the columns that were named before; none where there is no such file.
func KeptColumns(path string) (map[string]string, error) {
	data, err := files.Read(path, mostKeptBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	text, err := toml.Text(data)
	if err != nil {
		return nil, err
	}
	var doc struct {
		Columns map[string]string `toml:"columns"`
	}
	if err := toml.Decode(text, &doc); err != nil {
		return nil, err
	}
	for key := range doc.Columns {
		if _, ok := channelOf(key); !ok {
			return nil, fmt.Errorf("[columns] %s; the columns are %s", key, strings.Join(Keys(), ", "))
		}
	}
	return doc.Columns, nil
}

// KeepColumns writes columns for the next time.
func KeepColumns(path string, columns map[string]string) error {
	var b bytes.Buffer
	b.WriteString("# Which columns of the logger's tables are which, as named by --columns.\n# A line that is taken out is told by the table's own names again.\n[columns]\n")
	for _, key := range slices.Sorted(maps.Keys(columns)) {
		fmt.Fprintf(&b, "%s = %s\n", key, toml.Quote(columns[key]))
	}
	return files.Output(path, b.Bytes(), true)
}
