// `sidehill list`: what there is: machines, scenes, tyres, liquids, keys.
#include <fmt/format.h>

#include "render/text/fill/media_table.h"
#include "render/text/machine/lists.h"
#include "render/verbs/medium_options.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/insight/tyre_media.h"
#include "sim/scene/data_files.h"

namespace sidehill {
namespace {

struct ListCommand {
  std::string what;
  bool json = false, markdown = false;
  Units units = Units::si;
  MediaRequest in_tyre;  // of `list media --tyre`
  OwnOptions own;
  std::vector<std::string> prices;  // as typed: "water=0.002..0.01"
};

MediaRequest request_of(const ListCommand& options) {
  MediaRequest request = options.in_tyre;
  request.own = own_medium_of(options.own, "list");
  for (const std::string& typed : options.prices) {
    const std::size_t at = typed.find('=');
    const auto price = at == typed.npos ? std::nullopt : typed_price(std::string_view(typed).substr(at + 1));
    if (!price)
      throw InputError(fmt::format("list: --price \"{}\": KEY=LOW..HIGH in EUR per litre as pumped, as water=0.2..0.6",
                                   shown_typed(typed)));
    request.prices[typed.substr(0, at)] = *price;
  }
  return request;
}

void list_media(const ListCommand& options) {
  if (options.in_tyre.tyre.empty()) {
    options.json ? print(media_json()) : fmt::print("{}", media_table(options.units));
    return;
  }
  const std::vector<FillSheet> sheets = media_in_tyre(request_of(options));
  options.json ? print(tyre_media_json(sheets)) : fmt::print("{}", tyre_media_table(sheets, options.units));
}

int list_verb(const ListCommand& options) {
  const bool from_files = options.what == "machines" || options.what == "scenes" || options.what == "jobs";
  if (from_files && vehicle_files().empty()) throw InputError("list: no " + options.what + ": " + data_sought());
  if (options.what != "media" && (!options.in_tyre.tyre.empty() || options.own.any()))
    throw InputError("list: --tyre and --own-... are for media only");
  if (options.own.any() && options.in_tyre.tyre.empty())
    throw InputError("list: --own-...: give --tyre as well, what a medium of your own does is said of a tyre");
  if (options.markdown && options.what != "keys") throw InputError("list: --markdown is for keys only");
  if (options.what == "machines")
    options.json ? print(machines_json()) : fmt::print("{}", machines_table(options.units));
  else if (options.what == "scenes")
    options.json ? print(scenes_json()) : fmt::print("{}", scenes_table());
  else if (options.what == "jobs")
    options.json ? print(jobs_json()) : fmt::print("{}", jobs_table(options.units));
  else if (options.what == "media")
    list_media(options);
  else if (options.what == "tyres")
    options.json ? print(tyres_json()) : fmt::print("{}", tyres_table(options.units));
  else
    options.json ? print(keys_json()) : fmt::print("{}", options.markdown ? keys_markdown() : keys_table());
  return kAnswered;
}

}  // namespace

VerbAction prepare_list(CLI::App& sub) {
  const auto asked = std::make_shared<ListCommand>();
  sub.add_option("what", asked->what, "machines, scenes, jobs, tyres, media or keys")
      ->required()
      ->check(CLI::IsMember({"machines", "scenes", "jobs", "tyres", "media", "keys"}));
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  MediaRequest& r = asked->in_tyre;
  const auto tyre = sub.add_option("--tyre", r.tyre, "of media: what each of them would be in a tyre of this size");
  sub.add_option("--coldest-c", r.coldest_c, "with --tyre: coldest winter temperature, and what frost does then")
      ->needs(tyre);
  sub.add_option("--fill", r.fill, "with --tyre: share of the inside to fill, 0 to 1; default 0.75")->needs(tyre);
  sub.add_option("--temperature-c", r.temperature_c, "with --tyre: temperature while filling; default 10")->needs(tyre);
  sub.add_option("--cavity-l", r.cavity_l, "with --tyre: volume inside from a data book; default: from the size")
      ->needs(tyre);
  sub.add_option("--price", asked->prices, "with --tyre: KEY=LOW..HIGH, price of a medium in EUR/L; may be repeated")
      ->needs(tyre);
  take_own_medium(sub, asked->own);
  sub.add_flag("--markdown", asked->markdown, "print the keys as a Markdown table");
  return [asked] { return list_verb(*asked); };
}

}  // namespace sidehill
