// Measures in sentences, from SI into US units, and masses into kN. Part of render/text/words/units.
#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstdlib>
#include <iterator>
#include <span>
#include <utility>
#include <vector>

#include "render/text/words/units.h"
#include "render/text/words/us_units.h"

namespace sidehill::text {
namespace {

// A unit in a sentence. `least` = fewest digits after the point that its number gets, below 0: rounded to tens ...
struct SaidUnit {
  std::string_view si;
  double factor, offset;
  std::string_view us;
  int least;
};

// Where one begins with another, the longer stands first.
constexpr SaidUnit kSaid[] = {{" kg per kW", kHorsepower / 1e3 / kPound, 0, " lb per hp", 0},
                              {" kg/kW", kHorsepower / 1e3 / kPound, 0, " lb/hp", 0},
                              {" kg/m3", kGallon / kPound, 0, " lb/gal", 2},
                              {" kg/L", kGallon * 1e3 / kPound, 0, " lb/gal", 2},
                              {" kg m2", 1 / (kPound * kFoot * kFoot), 0, " lb ft2", 0},
                              {" kg", 1 / kPound, 0, " lb", 0},
                              {" kPa", 1e3 / kPsi, 0, " psi", 1},
                              {" bar", 1e5 / kPsi, 0, " psi", 1},
                              {" kN/m2", 1e3 / kPsi, 0, " psi", 1},
                              {" kN/m", 1e3 * kInch / kPoundForce, 0, " lbf/in", 0},
                              {" kN m", 1e3 / kFootPound, 0, " ft lbf", -2},
                              {" kN", 1e3 / kPoundForce, 0, " lbf", -2},
                              {" N", 1 / kPoundForce, 0, " lbf", 0},
                              {" kJ", 1e3 / kFootPound, 0, " ft lbf", -2},
                              {" J", 1 / kFootPound, 0, " ft lbf", 0},
                              {" kW", 1e3 / kHorsepower, 0, " hp", 0},
                              {" km/h", 1e3 / kMile, 0, " mph", 1},
                              {" m/s2", 1 / kFoot, 0, " ft/s2", 1},
                              {" m/s", 1 / kFoot, 0, " ft/s", 1},
                              {" m2", 1 / (kFoot * kFoot), 0, " ft2", 1},
                              {" m", 1 / kInch, 0, " in", 1},
                              {" cm", 0.01 / kInch, 0, " in", 1},
                              {" mm", 0.001 / kInch, 0, " in", 1},
                              {" °C", 1.8, 32, " °F", 0},
                              {" deg C", 1.8, 32, " deg F", 0},
                              {" C", 1.8, 32, " F", 0},
                              {" K", 1.8, 0, " °F", 0},
                              {" L/min", 0.001 / kGallon, 0, " gal/min", 1},
                              {" L", 0.001 / kGallon, 0, " gal", 1},
                              {" litres", 0.001 / kGallon, 0, " gallons", 1},
                              {" t", 1e3 / kPound, 0, " lb", 0}};
constexpr double kFeetFrom = 5;  // [m]
// Of what lies dry: a bale. Liquids are read by the gallon.
constexpr SaidUnit kSolidSaid{" kg/m3", kFoot* kFoot* kFoot / kPound, 0, " lb/ft3", 1};

// Masses alone, as what they weigh.
constexpr SaidUnit kSaidWeights[] = {{" kg", kStandardGravity / 1e3, 0, " kN", 0},
                                     {" t", kStandardGravity, 0, " kN", 0}};

// Words without a number of their own.
constexpr std::pair<std::string_view, std::string_view> kWords[] = {
    {"A few millimetres in the measures move", "A tenth of an inch in the measures moves"},
    {"for each tonne", "for each 2,205 lb"},
    {"litres", "gallons"},
    {"litre", "gallon"},
    {"kilograms", "pounds"},
    {"kilogram", "pound"}};

// A number in a sentence: where it begins and ends, its value, whether its thousands are set apart ("4 310"), how many
// digits stand after its point.
struct Said {
  std::size_t begin = 0, end = 0;
  double value = 0;
  bool apart = false;
  int digits = 0;
  bool off = false;  // how far off another may be: "+-5"
};

bool digit(const std::string& text, std::size_t at) { return at < text.size() && text[at] >= '0' && text[at] <= '9'; }

bool letter_or_digit(const std::string& text, std::size_t at) {
  return at < text.size() && std::isalnum(static_cast<unsigned char>(text[at]));
}

bool is_letter(const std::string& text, std::size_t at) {
  return at < text.size() && std::isalpha(static_cast<unsigned char>(text[at]));
}

Said number_at(const std::string& text, std::size_t from) {
  Said said;
  said.begin = from;
  const std::size_t first = text[from] == '-' ? from + 1 : from;
  said.end = std::min(text.find_first_not_of("0123456789.", first), text.size());
  while (said.end > first + 1 && text[said.end - 1] == '.') --said.end;  // of the sentence, not of the number
  std::string number = text.substr(from, said.end - from);
  while (said.end - first <= 3 || said.apart) {
    const std::size_t at = said.end;
    const bool three = at < text.size() && text[at] == ' ' && digit(text, at + 1) && digit(text, at + 2) &&
                       digit(text, at + 3) && !digit(text, at + 4) && number.find('.') == std::string::npos;
    if (!three) break;
    number += text.substr(at + 1, 3);
    said.end = at + 4;
    said.apart = true;
  }
  if (const std::size_t point = number.find('.'); point != number.npos)
    said.digits = static_cast<int>(number.size() - point - 1);
  said.value = std::strtod(number.c_str(), nullptr);
  return said;
}

// What sentences are turned into.
struct Wording {
  std::span<const SaidUnit> units;
  std::span<const std::pair<std::string_view, std::string_view>> words;
  Units into;
};

const SaidUnit* unit_at(const Wording& wording, const std::string& text, std::size_t at) {
  const std::string_view after = std::string_view(text).substr(std::min(at, text.size()));
  for (const SaidUnit& unit : wording.units) {
    if (!after.starts_with(unit.si)) continue;
    const std::string_view rest = after.substr(unit.si.size());
    if (letter_or_digit(text, at + unit.si.size()) || rest.starts_with('/') || rest.starts_with(" per ") ||
        rest.starts_with(" m2"))
      continue;
    return &unit;
  }
  return nullptr;
}

// "7 to 27", "2.5 +-0.3", "15, 30 and 50": all numbers that the unit behind the last is of. One number alone where
// none is.
std::vector<Said> numbers_at(const Wording& wording, const std::string& text, std::size_t from) {
  constexpr std::string_view kJoins[] = {" to ", " +-", ", ", " and ", " or "};
  std::vector<Said> all{number_at(text, from)};
  while (!unit_at(wording, text, all.back().end)) {
    const std::string_view after = std::string_view(text).substr(all.back().end);
    const auto* const join = std::ranges::find_if(kJoins, [&](std::string_view j) { return after.starts_with(j); });
    if (join == std::end(kJoins)) break;
    const std::size_t next = all.back().end + join->size();
    if (!digit(text, next) && !(next < text.size() && text[next] == '-' && digit(text, next + 1))) break;
    all.push_back(number_at(text, next));
    all.back().off = *join == " +-";
  }
  const SaidUnit* unit = unit_at(wording, text, all.back().end);
  // A list by commas is of one unit only where it is of short lengths: "index 128, 50 kPa" is two things.
  const bool lengths = unit && (unit->si == " cm" || unit->si == " mm");
  const auto joined = [&](std::size_t i) {
    const std::string_view join = std::string_view(text).substr(all[i - 1].end, all[i].begin - all[i - 1].end);
    return join != ", " || lengths;
  };
  for (std::size_t i = 1; i < all.size(); ++i)
    if (!unit || !joined(i)) return {all.front()};
  return all;
}

// The clause that is being written speaks of a bale.
bool of_bale(std::string_view before) {
  const std::size_t clause = before.find_last_of(",;:.");
  return before.find("bale", clause == before.npos ? 0 : clause) != before.npos;
}

// No idle zeros, thousands set apart.
std::string number_said(const Said& said, const SaidUnit& unit, int least, Units into) {
  const double value = said.value * unit.factor + (said.off ? 0 : unit.offset);
  const int digits = std::max(least, us_digits(unit.factor, said.digits));
  const double tens = digits < 0 ? std::pow(10, -digits) : 1;
  std::string text = grouped(std::round(value / tens) * tens, 0, into);
  if (digits > 0) {
    const std::string plain = trimmed_number(value, digits);
    const std::size_t point = plain.find('.');
    text = grouped(std::strtod(plain.substr(0, point).c_str(), nullptr), 0, into);
    if (plain.front() == '-' && text.front() != '-') text.insert(0, 1, '-');
    if (point != plain.npos) text += plain.substr(point);
  }
  return text;
}

std::string worded(const std::string& sentence, const Wording& wording) {
  std::string out;
  for (std::size_t i = 0; i < sentence.size();) {
    const char before = i == 0 ? ' ' : sentence[i - 1];
    const bool begins =
        before == ' ' || before == '(' || before == '\n' || before == '"' || before == '!' || before == '+';
    const bool sign = sentence[i] == '-' && digit(sentence, i + 1) && begins;
    const bool starts = digit(sentence, i) && (begins || before == '-' || before == '~');
    if (!sign && !starts) {
      bool word = false;
      for (const auto& [si, us] : wording.words) {
        if (std::string_view(sentence).substr(i, si.size()) != si || is_letter(sentence, i + si.size()) ||
            (i > 0 && is_letter(sentence, i - 1)))
          continue;
        out += us;
        i += si.size();
        word = true;
        break;
      }
      if (!word) out += sentence[i++];
      continue;
    }
    const std::vector<Said> all = numbers_at(wording, sentence, i);
    const SaidUnit* found = unit_at(wording, sentence, all.back().end);
    if (!found) {
      out += sentence.substr(i, all.front().end - i);
      i = all.front().end;
      continue;
    }
    SaidUnit unit = *found;
    const auto far = std::ranges::max_element(all, {}, [](const Said& said) { return std::abs(said.value); });
    if (unit.si == " m" && std::abs(far->value) >= kFeetFrom) unit = {" m", 1 / kFoot, 0, " ft", 1};
    if (unit.si == " kg/m3" && of_bale(out)) unit = kSolidSaid;
    const int least = unit.least;
    for (std::size_t k = 0; k < all.size(); ++k) {
      if (k > 0) out += sentence.substr(all[k - 1].end, all[k].begin - all[k - 1].end);
      out += number_said(all[k], unit, least, wording.into);
    }
    out += unit.us;
    i = all.back().end + found->si.size();
  }
  return out;
}

}  // namespace

std::string in_us_units(const std::string& sentence) { return worded(sentence, {kSaid, kWords, Units::us}); }
std::string in_kilonewtons(const std::string& sentence) { return worded(sentence, {kSaidWeights, {}, Units::kn}); }

}  // namespace sidehill::text
