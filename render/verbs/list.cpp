// `sidehill list`: what there is: machines, scenes, tyres, liquids, keys.
#include <fmt/format.h>

#include "render/text/machine/lists.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/scene/data_files.h"

namespace sidehill {
namespace {

struct ListCommand {
  std::string what;
  bool json = false, markdown = false;
};

int list_verb(const ListCommand& options) {
  const bool from_files = options.what == "machines" || options.what == "scenes" || options.what == "jobs";
  if (from_files && vehicle_files().empty()) throw InputError("list: no " + options.what + ": " + data_sought());
  if (options.markdown && options.what != "keys") throw InputError("list: --markdown is for keys only");
  if (options.what == "machines")
    options.json ? print(machines_json()) : fmt::print("{}", machines_table());
  else if (options.what == "scenes")
    options.json ? print(scenes_json()) : fmt::print("{}", scenes_table());
  else if (options.what == "jobs")
    options.json ? print(jobs_json()) : fmt::print("{}", jobs_table());
  else if (options.what == "media")
    options.json ? print(media_json()) : fmt::print("{}", media_table());
  else if (options.what == "tyres")
    options.json ? print(tyres_json()) : fmt::print("{}", tyres_table());
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
  sub.add_flag("--markdown", asked->markdown, "print the keys as a Markdown table");
  return [asked] { return list_verb(*asked); };
}

}  // namespace sidehill
