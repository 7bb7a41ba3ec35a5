// Whether some text says so.
#pragma once
#include <string>
#include <string_view>

inline bool has(const std::string& text, std::string_view words) { return text.find(words) != text.npos; }
