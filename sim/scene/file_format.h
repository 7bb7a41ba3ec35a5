// The format of the files that people keep (scenes, machines, lessons, entries, weighings): a number that goes up when
// an earlier program can no longer read what a new one writes. It says how the data are written and is no datum itself,
// so it is not in the field list and `--set` does not know it. Knows no file and no other key.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace sidehill {

inline constexpr std::int64_t kFileFormat = 1;
inline constexpr std::string_view kFormatKey = "format";

// "format = 1" with its line break, as every writer puts it before the first datum.
std::string format_line();

// Why a file that says this format is not read, and what is allowed; empty if it is read. `said` is nothing if a value
// is there but is no whole number. A file without the key has format 1 and is not asked about.
std::string format_refusal(std::optional<std::int64_t> said);

}  // namespace sidehill
