// Numbers that stand in words, and whether the JSON of the same answer holds them.
#pragma once
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <string>
#include <vector>

namespace sidehill {

// Every number in words, its thousands together.
inline std::set<double> numbers_in(const std::string& text) {
  std::set<double> out;
  // Behind a letter it is part of a name: "18.4R34 147A8".
  const std::regex form("(?:^|[^A-Za-z0-9.])(-?[0-9]{1,3}(?: [0-9]{3})+(?![0-9])|-?[0-9]+(?:\\.[0-9]+)?)");
  for (std::sregex_iterator it(text.begin(), text.end(), form), end; it != end; ++it) {
    std::string number = (*it)[1].str();
    std::erase(number, ' ');
    out.insert(std::abs(std::strtod(number.c_str(), nullptr)));
  }
  return out;
}

// All numbers of a JSON value, without sign; those that stand in its sentences apart.
struct JsonNumbers {
  std::vector<double> values;
  std::set<double> in_words;
};

inline void collect_numbers(const nlohmann::ordered_json& json, JsonNumbers& out) {
  if (json.is_number()) out.values.push_back(std::abs(json.get<double>()));
  if (json.is_string()) out.in_words.merge(numbers_in(json.get<std::string>()));
  if (json.is_structured())
    for (const auto& entry : json) collect_numbers(entry, out);
}

// Of these, those under a key that ends so.
inline void collect_of_keys(const nlohmann::ordered_json& json, const std::string& ending, JsonNumbers& out) {
  if (!json.is_structured()) return;
  for (const auto& [key, entry] : json.items())
    key.ends_with(ending) ? collect_numbers(entry, out) : collect_of_keys(entry, ending, out);
}

// A number shown is one of the JSON's, rounded as a page rounds it, or stands in one of its sentences.
inline bool is_in(double shown, const JsonNumbers& json) {
  if (json.in_words.contains(shown)) return true;
  return std::ranges::any_of(json.values, [&](double value) {
    for (const double factor : {1.0, 100.0, 0.01})
      for (const double digit : {1.0, 10.0, 100.0, 1e4})
        if (std::abs(std::round(value * factor * digit) / digit - shown) < 1e-9) return true;
    return std::abs(std::ceil(value) - shown) < 1e-9;
  });
}

}  // namespace sidehill
