// Which designation a mistyped one resembles (see tyre_size.h).
#include <algorithm>
#include <array>
#include <cctype>
#include <string>
#include <vector>

#include "vehicles/tyre_library.h"
#include "vehicles/tyre_size.h"

namespace sidehill {
namespace {

bool digit(char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; }

// Upper case, a decimal comma as a point, blanks as single blanks: they part numbers.
std::string bare(std::string_view text) {
  std::string out;
  for (const char c : text.substr(0, 40)) {
    const bool blank = std::isspace(static_cast<unsigned char>(c)) != 0;
    if (blank && (out.empty() || out.back() == ' ')) continue;
    out += blank ? ' ' : c == ',' ? '.' : static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  }
  return out;
}

std::vector<std::string> numbers_in(const std::string& s) {
  std::vector<std::string> found;
  for (std::size_t i = 0; i < s.size();) {
    if (!digit(s[i])) {
      ++i;
      continue;
    }
    std::size_t end = i;
    bool point = false;
    while (end < s.size() && (digit(s[end]) || (s[end] == '.' && !point && end + 1 < s.size() && digit(s[end + 1])))) {
      point = point || s[end] == '.';
      ++end;
    }
    found.push_back(s.substr(i, end - i));
    i = end;
  }
  return found;
}

// The same numbers with the signs put right, likeliest first.
std::vector<std::string> rearranged(const std::string& s) {
  const std::vector<std::string> n = numbers_in(s);
  const bool radial = s.find('R') != std::string::npos;
  const std::string sign = radial ? "R" : "-";
  const std::string prefix = s.starts_with("IF") ? "IF" : s.starts_with("VF") ? "VF" : "";
  const std::string low = s.find('L') != std::string::npos ? "L" : "";
  std::vector<std::string> out;
  if (n.size() >= 3) {
    out.push_back(prefix + n[0] + "/" + n[1] + (s.find('-') != std::string::npos && !radial ? "-" : "R") + n[2]);
    out.push_back(prefix + n[0] + "/" + n[1] + "R" + n[2]);
    out.push_back(n[0] + "x" + n[1] + sign + n[2]);
  }
  if (n.size() >= 2) {
    out.push_back(n[0] + low + sign + n[1]);
    if (n[0].size() == 3 && n[0].find('.') == std::string::npos) {  // the point is missing
      out.push_back(n[0].substr(0, 2) + "." + n[0].substr(2) + sign + n[1]);
    }
    out.push_back(n[1] + low + sign + n[0]);  // the wrong way round
    const std::size_t point = n[0].find('.');
    if (point != std::string::npos) out.push_back(n[0].substr(0, point + 2) + sign + n[1]);
  }
  return out;
}

// Fewest letters to add, drop, change or swap with their neighbour.
std::size_t distance(const std::string& a, const std::string& b) {
  std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i) d[i][0] = i;
  for (std::size_t j = 0; j <= b.size(); ++j) d[0][j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
    }
  }
  return d[a.size()][b.size()];
}

}  // namespace

std::string resembling_tyre_size(std::string_view text) {
  const std::string typed = bare(text);
  for (const std::string& candidate : rearranged(typed)) {
    // The size alone: marks behind it may be what is wrong.
    if (is_tyre_size(candidate)) return parse_tyre_size(candidate).designation;
  }
  const auto same_sign = [](std::string s) {
    std::erase(s, ' ');
    std::replace(s.begin(), s.end(), 'R', '-');
    return s;
  };
  std::string nearest;
  std::size_t fewest = 3;  // more slips than two and it is another size
  for (const LibraryTyre& tyre : tyre_library()) {
    const std::size_t slips = distance(same_sign(typed), same_sign(bare(tyre.designation)));
    if (slips < fewest) {
      fewest = slips;
      nearest = tyre.designation;
    }
  }
  return nearest;
}

}  // namespace sidehill
