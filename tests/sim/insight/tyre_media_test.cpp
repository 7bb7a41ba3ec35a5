#include "sim/insight/tyre_media.h"

#include <string>

#include "sim/base/errors.h"
#include "tests/kit/fills.h"
#include "tests/kit/has.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

MediaRequest of_tyre(const std::string& tyre) {
  MediaRequest request;
  request.tyre = tyre;
  return request;
}

std::string refusal_of_list(const MediaRequest& request) {
  try {
    media_in_tyre(request);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("each medium of the library is filled as `fill` fills it") {
  MediaRequest request = of_tyre("18.4-38");
  request.coldest_c = -20;
  request.prices["water"] = {0.01, 0.02};
  const auto sheets = media_in_tyre(request);
  REQUIRE(sheets.size() == media().size());
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    CHECK(sheets[i].medium == media()[i].medium);
    CHECK(sheets[i].cost.has_value() == (sheets[i].medium == Medium::water));
    FillRequest alone = request_of("18.4-38", std::string(media()[i].key));
    if (!media()[i].turns_with_wheel) alone.fill = 0.75;
    CHECK(sheets[i].recipe.mass == fill_sheet(alone).recipe.mass);
    CHECK(sheets[i].winter.has_value());
  }
}

TEST_CASE("the own medium comes last, if it is described") {
  MediaRequest request = of_tyre("18.4-38");
  request.own.density = 1250;
  const auto sheets = media_in_tyre(request);
  REQUIRE(sheets.size() == media().size() + 1);
  CHECK(sheets.back().medium == Medium::own);
  CHECK(sheets.back().density == 1250);
}

TEST_CASE("what cannot be listed is refused under the verb's own name") {
  CHECK(has(refusal_of_list(of_tyre("18.4x38")), "did you mean 18.4-38?"));
  CHECK(refusal_of_list(of_tyre("18.4x38")).starts_with("list:"));
  MediaRequest request = of_tyre("18.4-38");
  request.fill = 75;
  CHECK(refusal_of_list(request).starts_with("list: --fill 75"));
  request = of_tyre("18.4-38");
  request.prices["watr"] = {1, 2};
  CHECK(has(refusal_of_list(request), "list: --price \"watr\": did you mean water?"));
  request = of_tyre("18.4-38");
  request.prices["own"] = {1, 2};
  CHECK(has(refusal_of_list(request), "not described"));
  request = of_tyre("18.4-38");
  request.prices["water"] = {2, 1};
  CHECK(has(refusal_of_list(request), "2 to 1000"));
  request = of_tyre("18.4-38");
  request.own.density = 1.2;
  CHECK(has(refusal_of_list(request), "list: --own-density-kg-per-m3 1.2"));
}
