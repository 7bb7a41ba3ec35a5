// Reads a small comma-separated table of check values, with quoted fields. A missing file or column fails the test.
#pragma once
#include <doctest/doctest.h>

#include <fstream>
#include <map>
#include <string>
#include <vector>

namespace sidehill {

using CsvRow = std::map<std::string, std::string>;

inline std::vector<std::string> split_csv_line(const std::string& line) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (const char c : line) {
    if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      cells.emplace_back();
    } else if (c != '\r') {
      cells.back() += c;
    }
  }
  return cells;
}

// Rows of tests/data/<name>, by column heading.
inline std::vector<CsvRow> read_csv(const std::string& name) {
  std::ifstream file(std::string(SIDEHILL_SOURCE_DIR) + "/tests/data/" + name);
  REQUIRE_MESSAGE(file.good(), "cannot open ", name);
  std::string line;
  while (std::getline(file, line) && line.starts_with('#')) {  // where the rows come from
  }
  const std::vector<std::string> heading = split_csv_line(line);
  std::vector<CsvRow> rows;
  while (std::getline(file, line)) {
    const std::vector<std::string> cells = split_csv_line(line);
    REQUIRE(cells.size() == heading.size());
    CsvRow row;
    for (std::size_t i = 0; i < cells.size(); ++i) row[heading[i]] = cells[i];
    rows.push_back(row);
  }
  REQUIRE(!rows.empty());
  return rows;
}

}  // namespace sidehill
