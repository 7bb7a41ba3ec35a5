#include "render/text/fill/media_table.h"

#include <string>

#include "sim/insight/tyre_media.h"
#include "tests/kit/has.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

MediaRequest cold_tyre(std::optional<double> coldest_c) {
  MediaRequest request;
  request.tyre = "18.4-38";
  request.coldest_c = coldest_c;
  return request;
}

}  // namespace

TEST_CASE("what freezes solid on the coldest night stands first") {
  const auto sheets = media_in_tyre(cold_tyre(-25));
  const std::string text = tyre_media_table(sheets);
  CHECK(text.starts_with("FREEZE SOLID AT -25 °C, do not drive on them then: water, sodium_chloride."));
  CHECK(has(text, "Turn to slush then: calcium_chloride_3_5"));
  CHECK_FALSE(has(text, "EUR"));  // nobody gave a price
  CHECK(has(text, "    repair  Let it run, patch, fill again."));
  for (const FillSheet& s : sheets) CHECK(has(text, "\n" + std::string(info(s.medium).key) + " "));
  for (std::size_t at = 0, end; (end = text.find('\n', at)) != text.npos; at = end + 1) CHECK(end - at <= 180);
  CHECK(tyre_media_table(media_in_tyre(cold_tyre(5))).starts_with("None of them is known to freeze solid at 5 °C."));
  CHECK(has(tyre_media_table(media_in_tyre(cold_tyre({}))), "--coldest-c N says"));
}

TEST_CASE("an own medium without a first ice is not taken as liquid") {
  MediaRequest request = cold_tyre(-10);
  request.own.density = 1250;
  request.own.name = "winter filling";
  const std::string text = tyre_media_table(media_in_tyre(request));
  CHECK(has(text, "NOT KNOWN whether it freezes then: own."));
  CHECK(has(text, "winter filling"));
  const auto json = tyre_media_json(media_in_tyre(request));
  CHECK(json["not_known_at_coldest"] == nlohmann::ordered_json::array({"own"}));
  CHECK(json["media"].back()["frost"] == "not_known");
  CHECK(json["media"].back()["slush_free_c"].is_null());
}

TEST_CASE("the JSON says the same as the table, and a cost only where a price was given") {
  MediaRequest request = cold_tyre(-25);
  request.prices["ethylene_glycol"] = {1.5, 2};
  const auto sheets = media_in_tyre(request);
  const auto json = tyre_media_json(sheets);
  CHECK(json["solid_at_coldest"] == nlohmann::ordered_json::array({"water", "sodium_chloride"}));
  REQUIRE(json["media"].size() == sheets.size());
  for (const auto& row : json["media"]) {
    CAPTURE(row["name"]);
    const bool solid = row["name"] == "water" || row["name"] == "sodium_chloride";
    CHECK((row["frost"] == "solid") == solid);
    CHECK(row.contains("price_low_eur") == (row["name"] == "ethylene_glycol"));
    if (row["name"] == "water") CHECK_NEAR(row["mass_kg"].get<double>(), json["volume_l"].get<double>(), 1);
    if (row.contains("price_low_eur"))
      CHECK_NEAR(row["price_low_eur"].get<double>(), 1.5 * json["volume_l"].get<double>(), 1e-6);
  }
  CHECK(has(tyre_media_table(sheets), " EUR"));
  CHECK(tyre_media_json(media_in_tyre(cold_tyre({})))["solid_at_coldest"].is_null());
}
