// The file of a rolling test: read, refused by file, line and key, and never a NaN whatever is in it.
#include "sim/codes/rolling_file.h"

#include <cmath>
#include <random>

#include "render/text/machine/rolling_report.h"
#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/scene/scene.h"
#include "tests/kit/near.h"
#include "tests/kit/share.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

const std::string kExample = SIDEHILL_SOURCE_DIR "/scenes/rolling_test/narrow_tractor.toml";

// The example with one line replaced; the key's line number is `line` of it, from 1.
std::string with(const std::string& key, const std::string& instead, int* line = nullptr) {
  std::string text = read_text(kExample);
  const std::size_t at = text.find("\n" + key + " =") + 1;
  REQUIRE(at != 0);
  if (line)
    *line = static_cast<int>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n')) + 1;
  return text.replace(at, text.find('\n', at) - at, instead);
}

void check_refused_tractor(const std::string& text, const std::string& words) {
  CAPTURE(words);
  try {
    parse_rolling_tractor(text, "tractor.toml");
    FAIL_CHECK("not refused");
  } catch (const InputError& error) {
    const std::string said = error.what();
    CAPTURE(said);
    CHECK(said.find(words) != said.npos);
    CHECK(said.find('\n') == said.npos);
    CHECK(said.starts_with("tractor.toml:"));
  }
}

void check_refused_tractor(const std::string& key, const std::string& instead, const std::string& words) {
  int line = 0;
  const std::string text = with(key, instead, &line);
  check_refused_tractor(text, "tractor.toml:" + std::to_string(line) + ": " + words);
}

}  // namespace

TEST_CASE("the example is read value by value") {
  const RollingTractor t = load_rolling_tractor(kExample);
  CHECK(t.H1 == 0.69);
  CHECK(t.L6 == 0.05);
  CHECK(t.D0 == 0.16);
  CHECK(t.Mc == 2100);  // a whole number is a number
  CHECK(t.Q == 290);
  CHECK(rolling_fields().size() == 17);
  for (const RollingField& field : rolling_fields()) CHECK(t.*(field.member) != 0);
}

TEST_CASE("what is wrong is named by line and key, with what is allowed") {
  check_refused_tractor("D0", "D0 = 9", "D0: 9 is out of range, allowed 0 to 1 rad");
  check_refused_tractor("H6", "H6 = 2050", "H6: 2050 is out of range, allowed 0.3 to 5 m");
  check_refused_tractor("Mc", "Mc = -1", "Mc: -1 is out of range, allowed 50 to 20000 kg");
  check_refused_tractor("Mc", "Mc = 9007199254740993", "Mc: 9007199254740993 is out of range, allowed 50 to 20000 kg");
  check_refused_tractor("Q", "Q = nan", "Q: the number is not finite");
  check_refused_tractor("Q", "Q = \"290\"", "Q: a number belongs here, allowed 1 to 50000 kg m2");
  check_refused_tractor("S", "S = [1.04]", "S: a number belongs here");
  check_refused_tractor("S", "S.x = 1.04", "S: a number belongs here");
  check_refused_tractor("S", "S = true", "S: a number belongs here");
  check_refused_tractor("S", "S = ", "not readable as TOML");
  check_refused_tractor("H1", "h1 = 0.7", "h1: unknown key, did you mean H1?");
  check_refused_tractor("H1", "H1_m = 0.7", "H1_m: unknown key, did you mean H1?");
  check_refused_tractor("Mc", "MC = 2100", "MC: unknown key, did you mean Mc?");
  check_refused_tractor("L7", "L77 = 1.5", "L77: unknown key, did you mean L7?");
  check_refused_tractor("L7", "bonnet = 1.5", "bonnet: unknown key (allowed: H1, L3");
  check_refused_tractor("H6", "H6 = 0.9", "H6: the frame's point of impact must lie above");
  check_refused_tractor("D3", "D3 = 2.9", "D3: differs from D2 by the wheelbase");
  std::string low_and_wide = with("B0", "B0 = 2");
  low_and_wide.replace(low_and_wide.find("H1 = 0.69"), 9, "H1 = 0.11");
  check_refused_tractor(low_and_wide, "H1: so low between such wide wheels");
  check_refused_tractor(with("S", "H1 = 0.7"), "not readable as TOML");  // said twice
}

TEST_CASE("each missing key is named") {
  for (const RollingField& field : rolling_fields())
    check_refused_tractor(with(std::string(field.key), ""), ": " + std::string(field.key) + ": missing: ");
  check_refused_tractor("", "H1: missing");
}

TEST_CASE("a flood of dots, a flood of brackets and odd bytes are refused in one line") {
  check_refused_tractor(std::string(5000, 'a') + std::string(5000, '.'), "dots");
  check_refused_tractor("H1 = " + std::string(5000, '['), "");
  check_refused_tractor(std::string("\"a\\nb\" = 1\n"), "unknown key");
  check_refused_tractor(std::string("H1 = 0.7 \xff\xfe"), "not readable");
}

TEST_CASE("mangled files are refused in one line or answered without a NaN") {
  std::mt19937_64 random(29);
  const std::string text = read_text(kExample);
  int answered = 0, refused = 0;
  for (int round = 0; round < 3000 / kShare; ++round) {
    std::string mangled = text;
    for (std::size_t n = 1 + random() % 4; n > 0; --n) {
      const std::size_t at = random() % mangled.size();
      if (random() % 3 == 0)
        mangled[at] = static_cast<char>(random());
      else if (random() % 2)
        mangled[at] = static_cast<char>('0' + random() % 10);
      else
        mangled.erase(at, random() % 4);
      if (mangled.empty()) mangled = " ";
    }
    try {
      const RollingReport report = rolling_report("mangled", parse_rolling_tractor(mangled, "mangled.toml"));
      const std::string json = to_json(report).dump(), table = rolling_table(report);
      for (const std::string* out : {&json, &table}) {
        CHECK(out->find("nan") == std::string::npos);
        CHECK(out->find("inf") == std::string::npos);
      }
      ++answered;
    } catch (const InputError& error) {
      CHECK(std::string(error.what()).find('\n') == std::string::npos);
      ++refused;
    }
  }
  CHECK(answered > 100);
  CHECK(refused > 100);
}

TEST_CASE("values anywhere in their ranges are refused by key or answered in finite numbers") {
  std::mt19937_64 random(31);
  int answered = 0;
  for (int round = 0; round < 20000 / kShare; ++round) {
    RollingTractor t;
    for (const RollingField& field : rolling_fields()) {
      const std::uint64_t draw = random();
      const double share = draw % 8 == 0 ? 0 : draw % 8 == 1 ? 1 : static_cast<double>(draw >> 11) * 0x1p-53;
      t.*(field.member) = field.min + (field.max - field.min) * share;
    }
    if (find_rolling_conflict(t)) continue;
    const auto values = to_json(rolling_report("drawn", t)).flatten();
    for (const auto& [path, value] : values.items()) {
      const auto& this_path = path;
      CAPTURE(this_path);
      if (value.is_number_float()) CHECK(std::isfinite(value.get<double>()));
    }
    ++answered;
  }
  CHECK(answered > 1000);
}
