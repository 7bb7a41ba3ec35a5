#include "render/text/motion/slope_limit_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <set>

#include "render/text/rest/answer_json.h"
#include "render/text/words/columns.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/scene/scene_file.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;
constexpr std::size_t kLimitCell = 12;  // least width of a column
constexpr const char* kWhatLimitTells =
    "Found by running the programme on this ground alone, from rest: another bump, a hole beside it, a jerk at the "
    "wheel or "
    "wet grass changes it. A limit is where it happens, not where it is safe: stay far below.";

template <class T>
bool reads(std::string_view text, T& value) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc{} && end == text.data() + text.size();
}

const char* bearable_words(Bearable bearable) {
  return bearable == Bearable::no_lift ? "no wheel lifts" : "it does not go over";
}

std::string reason_words(NoLimit why) {
  switch (why) {
    case NoLimit::there_is_one:
      return {};
    case NoLimit::on_the_level:
      return "it happens on level ground already";
    case NoLimit::slides_first:
      return "from there on it slides away and does not meet what lies ahead";
    case NoLimit::slides_unjudged:
      return "it happens nowhere, but from there on tyres slide, so that says nothing";
  }
  return "-";
}

// How it ends just beyond the limit.
std::string ending(const std::string& outcome) {
  if (outcome == to_string(Outcome::wheel_up)) return "a wheel lifts";
  if (outcome == to_string(Outcome::lifts_and_returns)) return "a wheel lifts and comes back";
  if (outcome == to_string(Outcome::overturned_rear)) return "it goes over backwards";
  if (outcome == to_string(Outcome::on_frame) || outcome == to_string(Outcome::rolls_on)) return "it goes over";
  return outcome == to_string(Outcome::diverged) ? "the numbers ran away" : outcome;
}

// What must not happen happens without any slope.
bool on_level(const Json& cell) {
  return cell["limit_deg"].is_null() && cell["reason"] == reason_words(NoLimit::on_the_level);
}
std::string on_level_words(bool lift) {
  return std::string("even on level ground ") + (lift ? "a wheel lifts" : "it goes over");
}

// A slope not to pass: its per cent rounded down.
std::string limit_shown(const Json& slope) { return degrees_and_percent(slope.get<double>() * kDegree, 2, true); }

// "12.05° = 21 %"; no limit: "none", or the slope from which on it slides, "~22.55° = 41 %".
std::string cell_words(const Json& cell) {
  if (cell["limit_deg"].is_null()) {
    if (on_level(cell) || cell["slides_at_deg"].is_null()) return "none";
    return "~" + limit_shown(cell["slides_at_deg"]);
  }
  return (cell["open"].get<bool>() ? "over " : "") + limit_shown(cell["limit_deg"]) +
         (cell["again_deg"].is_null() ? "" : "*");
}

// A number as typed, without digits nobody asked for.
std::string plain(const Json& value) { return fmt::format("{:.6g}", value.get<double>()); }

// The same of this key in the units asked for: "2" of programme.speed_kmh, "1.24 mph".
std::string plain(const Json& value, const std::string& key, Units units) {
  const TypedUnit typed = typed_unit(key, units);
  if (units == Units::si || typed.unit.empty()) return plain(value);
  return fmt::format("{:.4g} {}", typed.shown(value.get<double>()), typed.unit);
}

// A key as the head of rows or columns; its name says SI, so in other units it stands in words.
std::string key_head(const std::string& key, Units units) {
  return units == Units::si || typed_unit(key, units).unit.empty() ? key : key_words(key);
}

// What a part of a table may hold; a number beyond that is none of ours.
constexpr std::int64_t kMostShards = 10000, kMostRuns = 1000000, kMostValues = 50;
constexpr double kSteepest = 90;  // [deg]

bool is_whole(const Json& value, std::int64_t low, std::int64_t high) {
  if (!value.is_number_integer()) return false;
  if (value.is_number_unsigned() && value.get<std::uint64_t>() > static_cast<std::uint64_t>(high)) return false;
  return value.get<std::int64_t>() >= low && value.get<std::int64_t>() <= high;
}

bool is_angle(const Json& value) {
  return value.is_number() && value.get<double>() >= 0 && value.get<double>() <= kSteepest;
}

// Plain letters, as keys and outcomes have them: nothing that a terminal would obey.
bool is_word(const Json& value, std::size_t longest) {
  if (!value.is_string()) return false;
  const auto& text = value.get_ref<const std::string&>();
  return !text.empty() && text.size() <= longest &&
         std::ranges::all_of(text, [](char c) { return c >= ' ' && c < 0x7f; });
}

bool are_numbers(const Json& values, std::size_t least, std::size_t most) {
  return values.is_array() && values.size() >= least && values.size() <= most &&
         std::ranges::all_of(values, [](const Json& value) { return value.is_number(); });
}

bool is_cell(const Json& cell, std::size_t keys) {
  for (const char* angle : {"limit_deg", "again_deg", "slides_at_deg"})
    if (!cell.at(angle).is_null() && !is_angle(cell.at(angle))) return false;
  return are_numbers(cell.at("values"), keys, keys) && cell.at("open").is_boolean() &&
         cell.at("diverged").is_boolean() && is_word(cell.at("fails_as"), 40) &&
         (cell.at("reason").is_null() || is_word(cell.at("reason"), 200)) && is_whole(cell.at("runs"), 0, kMostRuns);
}

// Whether a file holds a part, whole and as slope_limit_json writes it: everything that is read of it later is there.
bool is_part(const Json& part) try {
  if (part.at("table") != "slope_limit") return false;
  const Json &shard = part.at("shard"), &over = part.at("over"), &list = part.at("cells");
  if (!is_whole(shard.at("of"), 1, kMostShards)) return false;
  const auto of = shard.at("of").get<std::int64_t>();
  if (!is_whole(shard.at("part"), 1, of) || !over.is_array() || over.size() > 2 || !list.is_array()) return false;
  std::int64_t cells = 1;
  for (const Json& key : over) {
    if (!is_word(key.at("key"), 100) || !are_numbers(key.at("values"), 1, kMostValues)) return false;
    cells *= static_cast<std::int64_t>(key.at("values").size());
  }
  if (part.at("bearable") != "no_lift" && part.at("bearable") != "no_roll") return false;
  if (!is_angle(part.at("resolution_deg"))) return false;
  std::int64_t expected = shard.at("part").get<std::int64_t>() - 1;
  for (const Json& cell : list) {
    if (!is_whole(cell.at("number"), expected, expected) || !is_cell(cell, over.size())) return false;
    expected += of;
  }
  return expected >= cells && expected - of < cells;
} catch (const Json::exception&) {
  return false;
}

}  // namespace

SweptKey swept_key(const std::string& text) {
  const auto refuse = [&]() -> SweptKey {
    throw InputError("--over " + text + ": allowed KEY=FROM:TO:STEPS, as programme.speed_kmh=2:10:5, 2 to 50 steps");
  };
  const std::size_t equals = text.find('='), first = text.find(':', equals), second = text.find(':', first + 1);
  if (equals == text.npos || first == text.npos || second == text.npos) return refuse();
  SweptKey key;
  key.key = text.substr(0, equals);
  const std::string_view whole = text;
  if (!reads(whole.substr(equals + 1, first - equals - 1), key.from) ||
      !reads(whole.substr(first + 1, second - first - 1), key.to) || !reads(whole.substr(second + 1), key.steps) ||
      key.steps < 2 || key.steps > kMostValues || !std::isfinite(key.from) || !std::isfinite(key.to))
    return refuse();
  return key;
}

Shard shard_of(const std::string& text) {
  const std::size_t slash = text.find('/');
  Shard shard;
  const std::string_view whole = text;
  if (slash == text.npos || !reads(whole.substr(0, slash), shard.part) || !reads(whole.substr(slash + 1), shard.of) ||
      shard.of < 1 || shard.of > kMostShards || shard.part < 1 || shard.part > shard.of)
    throw InputError("--shard " + text + ": allowed K/N with 1 <= K <= N, as 2/5");
  --shard.part;
  return shard;
}

Json slope_limit_json(const SlopeLimitRequest& request, const std::vector<SweptCell>& cells) {
  Json over = Json::array(), list = Json::array();
  for (const SweptKey& key : request.keys) {
    Json values = Json::array();
    for (int i = 0; i < key.steps; ++i) values.push_back(value_of(key, i));
    over.push_back({{"key", key.key}, {"values", values}});
  }
  for (const SweptCell& cell : cells) {
    const SlopeLimit& l = cell.limit;
    list.push_back({{"number", cell.number},
                    {"values", cell.values},
                    {"limit_deg", number_or_null(l.slope, kDegree)},
                    {"open", l.open},
                    {"again_deg", number_or_null(l.again, kDegree)},
                    {"slides_at_deg", number_or_null(l.slides_at, kDegree)},
                    {"reason", l.no_limit == NoLimit::there_is_one ? Json(nullptr) : Json(reason_words(l.no_limit))},
                    {"fails_as", to_string(l.fails_as)},
                    {"diverged", l.diverged},
                    {"runs", l.runs}});
  }
  return {{"program", "sidehill " SIDEHILL_VERSION},
          {"table", "slope_limit"},
          {"bearable", request.ask.bearable == Bearable::no_lift ? "no_lift" : "no_roll"},
          {"resolution_deg", number_or_null(request.ask.fine, kDegree)},
          {"scene", write_scene(request.scene)},
          {"slope_deg", number_or_null(request.scene.terrain.slope, kDegree)},
          {"over", over},
          {"shard", {{"part", request.shard.part + 1}, {"of", request.shard.of}}},
          {"cells", list},
          {"cautions", {kWhatLimitTells, kCautionLine}}};
}

namespace {

// Of a single limit: that the scene's own slope is over it, before anything else. Empty where it is not.
std::string over_the_limit(const Json& whole, bool lift) {
  if (!whole["over"].empty() || whole["cells"].size() != 1) return {};
  const Json& cell = whole["cells"][0];
  if (on_level(cell)) return capital(on_level_words(lift)) + ".\n\n";
  const Json slope = whole.value("slope_deg", Json());  // parts of older tables have none
  if (!slope.is_number()) return {};
  const double here = slope.get<double>();
  const auto under = [here](const Json& limit) { return limit.is_number() && limit.get<double>() < here; };
  if (under(cell["limit_deg"]))
    return fmt::format("OVER THE LIMIT: the scene's own slope, {}, is steeper than {}.\n\n",
                       degrees_and_percent(here * kDegree), limit_shown(cell["limit_deg"]));
  if (cell["limit_deg"].is_null() && under(cell["slides_at_deg"]))
    return fmt::format("SLIDES: on the scene's own slope, {}, it does not hold; it slides from {} on.\n\n",
                       degrees_and_percent(here * kDegree), limit_shown(cell["slides_at_deg"]));
  return {};
}

}  // namespace

std::string slope_limit_table(const Json& whole, Units units) {
  const Json &cells = whole["cells"], &over = whole["over"];
  const bool lift = whole["bearable"] == "no_lift";
  std::string text = over_the_limit(whole, lift);
  text +=
      fmt::format("Steepest slope on which {}, to {:.2g}°\n\n",
                  bearable_words(lift ? Bearable::no_lift : Bearable::no_roll), whole["resolution_deg"].get<double>());
  bool again = false, diverged = false, slides = false, none = false;
  std::int64_t runs = 0;
  for (const Json& cell : cells) {
    again = again || !cell["again_deg"].is_null();
    none = none || on_level(cell);
    slides = slides || cell_words(cell).starts_with('~');
    diverged = diverged || cell["diverged"].get<bool>();
    runs += cell["runs"].get<std::int64_t>();
  }
  if (over.size() == 2) {
    const Json &rows = over[0]["values"], &columns = over[1]["values"];
    const std::string down = over[0]["key"].get<std::string>(), across = over[1]["key"].get<std::string>();
    text += fmt::format("  rows {}, columns {}\n", key_head(down, units), key_head(across, units));
    std::vector<std::vector<std::string>> lines{{""}};
    for (const Json& value : columns) lines.front().push_back(plain(value, across, units));
    for (std::size_t r = 0; r < rows.size(); ++r) {
      lines.push_back({plain(rows[r], down, units)});
      for (std::size_t c = 0; c < columns.size(); ++c) {
        const auto at = std::find_if(cells.begin(), cells.end(), [&](const Json& cell) {
          return cell["number"].get<std::size_t>() == r * columns.size() + c;
        });
        lines.back().push_back(at == cells.end() ? "-" : cell_words(*at));
      }
    }
    text += lines_of_cells("  ", std::vector<Column>(columns.size() + 1, Column{kLimitCell}), lines);
  } else {
    const std::string key = over.empty() ? "" : over[0]["key"].get<std::string>();
    if (over.size() == 1) text += fmt::format("  {}\n", key_head(key, units));
    for (const Json& cell : cells) {
      const std::string value = over.empty() ? "" : plain(cell["values"][0], key, units);
      text += fmt::format("  {:>{}}{:>{}}", value, kLimitCell, cell_words(cell), kLimitCell + 4);
      if (!cell["limit_deg"].is_null() && !cell["open"].get<bool>())
        text += "   steeper: " + ending(cell["fails_as"].get<std::string>());
      if (on_level(cell))
        text += "   " + on_level_words(lift);
      else if (cell["limit_deg"].is_null())
        text += "   no limit: " + cell["reason"].get<std::string>();
      else if (!cell["slides_at_deg"].is_null())
        text += fmt::format("   slides from {} on", limit_shown(cell["slides_at_deg"]));
      text += "\n";
    }
  }
  text += fmt::format("\n  {} runs.\n", runs);
  if (none && !over.empty()) text += "  none: " + on_level_words(lift) + ".\n";
  if (again) text += "  * a steeper slope tried was passed again: not everything between is safe or unsafe.\n";
  if (slides)
    text += "  ~ no limit: from that slope on it slides, and may not meet what lies ahead. No grip, no answer.\n";
  if (diverged) text += "  Some runs' numbers ran away; they count as not passed.\n";
  return text + "\n" + paragraph("  ! ", kWhatLimitTells) + paragraph("  ! ", kCautionLine);
}

Json part_of(const std::string& text, const std::string& name) {
  // Copying and comparing go as deep as the values are nested: deeper than a table is refused while it is read.
  const auto shallow = [&name](int around, Json::parse_event_t event, Json&) {
    constexpr int kDeepest = 8;  // a table has 4
    const bool opens = event == Json::parse_event_t::object_start || event == Json::parse_event_t::array_start;
    if (opens && around >= kDeepest)
      throw InputError(fmt::format("{}: is nested more than {} deep, allowed what slope-limit --shard --output wrote",
                                   name, kDeepest));
    return true;
  };
  Json part = Json::parse(text, shallow, false);
  if (part.is_discarded()) throw InputError(name + ": is not JSON, allowed what slope-limit --shard --output wrote");
  return part;
}

Json merged(const std::vector<std::pair<std::string, Json>>& parts) {
  if (parts.empty()) throw InputError("merge: no files, allowed the parts of one table");
  const auto head = [](const Json& part) {
    Json h = part;
    h.erase("shard");
    h.erase("cells");
    return h;
  };
  std::set<int> there;
  int of = 0;
  std::vector<Json> cells;
  for (const auto& [name, part] : parts) {
    if (!is_part(part))
      throw InputError(name + ": is no whole part of a table, allowed what slope-limit --shard --output wrote");
    if (head(part) != head(parts.front().second))
      throw InputError(name + ": is of another table than " + parts.front().first + ", allowed parts of one");
    const int number = part["shard"]["part"].get<int>();
    if (of == 0) of = part["shard"]["of"].get<int>();
    if (part["shard"]["of"].get<int>() != of)
      throw InputError(fmt::format("{}: is a part of {}, the others of {}", name, part["shard"]["of"].get<int>(), of));
    if (!there.insert(number).second) throw InputError(fmt::format("{}: part {}/{} is there twice", name, number, of));
    for (const Json& cell : part["cells"]) cells.push_back(cell);
  }
  for (int number = 1; number <= of; ++number)
    if (!there.contains(number)) throw InputError(fmt::format("merge: part {}/{} is missing", number, of));
  std::sort(cells.begin(), cells.end(),
            [](const Json& a, const Json& b) { return a["number"].get<int>() < b["number"].get<int>(); });
  Json whole = parts.front().second;
  whole["shard"] = {{"part", 1}, {"of", 1}};
  whole["cells"] = cells;
  return whole;
}

}  // namespace sidehill::text
