// `sidehill log` from outside: the worst first, what --add writes, the machine as it is now, one line for bad input.
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "sim/base/text_file.h"
#include "sim/plan/plan_log.h"
#include "sim/scene/machine_mark.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/folder.h"
#include "tests/kit/full_disk.h"
#include "tests/kit/has.h"
#include "tests/kit/program.h"

using namespace sidehill;

namespace {

const std::string kDay = "SIDEHILL_TODAY=2026-06-01 ";

Said on_day(const std::string& arguments, const std::string& day = kDay) {
  return shell(day + "'" SIDEHILL_PROGRAM "' " + arguments);
}

// Water in the rear tyres to a half where there was none. As short as a person would write it.
std::string write_plan(const Folder& folder) {
  const Scene before =
      load_scene(SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml",
                 std::vector<std::string>{"ballast.rear.fill_fraction=0", "ballast.rear.medium=water"});
  const std::string file = (folder / "plan.toml").string();
  save_text(file,
            "vehicle_file = \"utility_75kw\"  # my tractor\n[ballast.rear]\nmedium = \"water\"\nfill_fraction = "
            "0.5\n[record]\nmachine_number = \"A-17\"\n[plan]\nname = \"water in the rear\"\nmade = "
            "2026-03-01\nmachine_mark = \"" +
                machine_mark(before) + "\"\n[[plan.before]]\nkey = \"ballast.rear.fill_fraction\"\nvalue = \"0\"\n");
  return file;
}

void log_refused(const std::string& arguments, const std::string& what) {
  const Said said = on_day(arguments + " 2>&1 >/dev/null");
  CAPTURE(arguments);
  CAPTURE(said.out);
  CHECK(said.code == 2);
  CHECK(has(said.out, what));
  CHECK(std::count(said.out.begin(), said.out.end(), '\n') == 1);
}

}  // namespace

TEST_CASE("a plan is carried out entry by entry: the first line says what is wrong, the file keeps its bytes") {
  const Folder folder;
  const std::string file = write_plan(folder), plan = "log " + file;
  const std::string as_written = read_text(file);
  CHECK(on_day(plan).out.starts_with("NOT CARRIED OUT, nothing is logged: rear left tyre: 0 of "));
  CHECK(on_day(plan + " --strict >/dev/null").code == 4);
  const auto before = nlohmann::json::parse(on_day(plan + " --json").out);
  REQUIRE(before.at("left").size() == 2);
  const double wanted = before.at("left")[0].at("planned_l").get<double>();
  CHECK(std::abs(before.at("planned").at("volume_l")[2].get<double>() - wanted) < 1e-9);

  const std::string litres = std::to_string(wanted), half = std::to_string(wanted / 2);
  CHECK(on_day(plan + " --add --date 2026-05-01 --who 'Ana \"A\" Silva' --tyre rear-left --litres " + litres +
               " --next-check 2026-05-20 --note 'warm day' >/dev/null")
            .code == 0);
  const std::string once = read_text(file);
  CHECK(once.starts_with(as_written));
  CHECK(has(once, "medium = \"water\"\nnext_check = 2026-05-20"));
  CHECK(on_day(plan + " --add --at rear_right --what filled --litres " + half + " >/dev/null").code == 0);
  CHECK(read_text(file).starts_with(once));

  const Said said = on_day(plan);
  const std::string first = said.out.substr(0, said.out.find('\n'));
  CAPTURE(first);
  CHECK(first.starts_with("NOT AS PLANNED: rear right tyre: "));
  CHECK(has(first, "CHECK OVERDUE since 2026-05-20 (rear left tyre)"));
  CHECK(has(said.out, "number A-17"));
  CHECK(has(said.out, "(Ana \"A\" Silva). Next check 2026-05-20. warm day"));
  CHECK(has(said.out, "2026-06-01, rear right tyre: filled"));
  const std::string us = on_day(plan + " --units us").out;
  CHECK(has(us, " gal"));
  CHECK(!has(us, " L of"));

  // As every other verb sees it.
  const std::string now = (folder / "now.toml").string();
  CHECK(on_day(plan + " --now " + now + " >/dev/null").code == 0);
  log_refused(plan + " --now " + now, "is there already");
  const auto json = nlohmann::json::parse(on_day(plan + " --json").out);
  CHECK(json.at("as_planned") == false);
  CHECK(json.at("overdue") == true);
  const Scene machine = load_scene(now);
  CHECK(machine.plan.made.empty());
  CHECK(std::abs(machine.ballast.fill[kRearRight].fill_fraction - 0.25) < 1e-6);
  CHECK(std::abs(json.at("now").at("volume_l")[3].get<double>() - wanted / 2) < 1e-3);
  CHECK(program("solve " + now + " >/dev/null").code == 0);

  CHECK(on_day(plan + " --add --tyre rear-right --litres " + half + " >/dev/null").code == 0);
  CHECK(on_day(plan + " --add --at machine --what checked --next-check 2026-12-01 >/dev/null").code == 0);
  CHECK(on_day(plan + " --strict").out.starts_with("By its log it is as planned. Next check: 2026-12-01."));
  CHECK(on_day(plan + " --strict >/dev/null", "SIDEHILL_TODAY=2026-12-02 ").code == 4);
}

TEST_CASE("every other verb opens a plan file, and says that it is the plan") {
  const Folder folder;
  const std::string file = write_plan(folder);
  for (const std::string verb : {"solve ", "ballast "}) {
    const Said said = program(verb + file);
    CHECK(said.code == 0);
    CHECK(has(said.out, "as planned on 2026-03-01"));
    CHECK(!has(said.out, "ANOTHER MACHINE"));
    CHECK(has(program(verb + file + " --set vehicle.chassis.mass_kg=3000").out, "ANOTHER MACHINE"));
  }
  CHECK(program("sheet " + file + " " + (folder / "a.pdf").string() + " >/dev/null").code == 0);
  CHECK(program("check " + file + " >/dev/null").code == 0);
  const std::string compare = "compare " + file + " --with nothing 2>&1 >/dev/null";
  CHECK(program(compare).out.empty());
  CHECK(has(program("compare " + file + " --set vehicle.chassis.mass_kg=3000 --with nothing 2>&1 >/dev/null").out,
            "ANOTHER MACHINE"));
}

TEST_CASE("a log that cannot be is refused in one line, and nothing is written") {
  const Folder folder;
  const std::string file = write_plan(folder), add = "log " + file + " --add ";
  const std::string before = read_text(file);
  log_refused(add + "--tyre rear-left --litres 100 --date 2026-06-02", "lies in the future, allowed up to today");
  log_refused(add + "--tyre rear-left --litres 100 --date yesterday", "\"yesterday\" is no date");
  log_refused(add + "--tyre rear-middle --litres 100", "\"rear_middle\" is not known, allowed one of front_left");
  log_refused(add + "--tyre rear-left --litres -5", "-5 is out of range");
  log_refused(add + "--tyre rear-left --litres lots", "is not readable");
  log_refused(add + "--tyre rear-left --litres 900", "in a tyre that holds");
  log_refused(add + "--tyre rear-left --what drained --litres 50", "were drained where 0 L were in");
  log_refused(add + "--litres 50", "say where");
  log_refused("log " + file + " --litres 50", "give --add as well");
  log_refused("log " + file + " --now now.txt", "give it a name in .toml");
  log_refused("log " SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml", "this is no plan file");
  CHECK(read_text(file) == before);

  // In the file, with its line.
  const auto with = [&](const std::string& entry) {
    save_text(file, before + "[[plan.log]]\n" + entry);
    return "log " + file;
  };
  log_refused(with("date = 2026-07-01\nplace = \"rear_left\"\nwhat = \"checked\"\n"), "plan.toml:14: plan.log[].date");
  log_refused("check " + file, "plan.toml:14: plan.log[].date: 2026-07-01 lies in the future");
  log_refused(with("date = 2026-05-01\nplace = \"rear_left\"\n"), "plan.log[].what: is missing");
  log_refused(with("date = 2026-05-01T10:00:00\nplace = \"rear_left\"\nwhat = \"checked\"\n"), "with a time of day");
  log_refused(with("date = 2026-05-01\nnext_check = 2026-05-01T10:00:00\nplace = \"rear_left\"\nwhat = \"checked\"\n"),
              "with a time of day");
  log_refused(with("date = 2026-05-01\nplace = \"rear_left\"\nwhat = \"filled\"\nlitres = 5\n"), "unknown key");
}

TEST_CASE("a plan file of another machine is said so first, and nothing is logged in it") {
  const Folder folder;
  const std::string file = write_plan(folder), mine = (folder / "mine.toml").string();
  const std::string before = read_text(file);
  save_text(mine, "vehicle_file = \"utility_75kw\"\n");
  CHECK(on_day("log " + file + " --of " + mine + " >/dev/null").code == 0);
  save_text(mine, "vehicle_file = \"utility_75kw\"\n[record]\nmachine_number = \"B-2\"\n");
  log_refused("log " + file + " --of " + mine, "the plan is for machine A-17, ");
  save_text(mine, "vehicle_file = \"compact_26kw\"\n");
  log_refused("log " + file + " --of " + mine, "the plan is for another machine");
  save_text(file, "title = \"x\"\n" + before + "[vehicle.chassis]\nmass_kg = 2000\n");
  CHECK(on_day("log " + file).out.starts_with("ANOTHER MACHINE: "));
  log_refused("log " + file + " --add --tyre rear-left --litres 100", "for another machine");
}

TEST_CASE("a full disk leaves the plan file as it was") {
  const Folder folder;
  const std::string file = write_plan(folder), before = read_text(file);
  {
    const FullDisk full(64);
    log_refused("log " + file + " --add --tyre rear-left --litres 100", "plan.toml");
  }
  CHECK(read_text(file) == before);
  CHECK(folder.files() == 1);
}
