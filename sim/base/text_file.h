// Whole files of text, read and written. Knows no format.
#pragma once
#include <filesystem>
#include <string>
#include <string_view>

namespace sidehill {

// Throws InputError (sim/base/errors.h) unless there is a plain file that can be looked at: missing, a folder, a pipe.
void check_plain_file(const std::filesystem::path& path);

// Whole text of a file. Throws InputError: missing, a directory, too large, unreadable.
std::string read_text(const std::filesystem::path& path);

// Writes a whole file as sim/base/saving.h says, so that an interruption or a full disk loses nothing. Throws
// InputError.
void save_text(const std::filesystem::path& path, std::string_view text);

// A text as a TOML string: in quotes, with everything escaped that would end it or the line.
std::string in_quotes(std::string_view text);

}  // namespace sidehill
