// The rows of a plan file: what the plan is, how the machine stood before, its log; and who a page is for.
#include "sim/scene/field_rows.h"
#include "sim/scene/plan_record.h"

namespace sidehill {
namespace {

constexpr std::size_t kName = 120;
constexpr double kMostLitres = 10000, kMostMass = 20000, kMostPressure = 1000, kMostTrack = 8, kMostStrength = 0.6;

template <auto... path>
constexpr auto in_plan() {
  return at<&Scene::plan, path...>();
}
template <auto... path>
constexpr auto in_record() {
  return at<&Scene::record, path...>();
}

}  // namespace

std::vector<Field> plan_fields() {
  return {
      only_set(text("record.machine_number", in_record<&PageRecord::machine_number>(), kName,
                    "serial number of the machine's plate, for pages")),
      only_set(text("record.owner", in_record<&PageRecord::owner>(), kName, "whose machine it is, for pages")),
      only_set(text("record.place", in_record<&PageRecord::place>(), kName, "where it stands or works, for pages")),
      only_set(text("record.asked_by", in_record<&PageRecord::asked_by>(), kName, "who asks for the page")),
      only_set(date("record.date", in_record<&PageRecord::date>(), "of the page")),
      only_set(text("plan.name", in_plan<&PlanRecord::name>(), 400, "what the planned set-up is called")),
      only_set(date("plan.made", in_plan<&PlanRecord::made>(),
                    "when the plan was made; its presence makes the scene a plan file")),
      only_set(text("plan.machine_mark", in_plan<&PlanRecord::machine_mark>(), 16,
                    "by which the machine it was made for is known again; written by the program")),
  };
}

std::span<const FieldOf<PlanBefore>> plan_before_fields() {
  static const std::vector<FieldOf<PlanBefore>> kRows = {
      needed(text("key", at<&PlanBefore::key>(), kName, "a datum of the machine before anything was done")),
      needed(
          text("value", at<&PlanBefore::value>(), 400, "its value then, as in a file; words in quotes of their own")),
  };
  return kRows;
}

std::span<const FieldOf<LogEntry>> log_fields() {
  static const std::vector<FieldOf<LogEntry>> kRows = {
      needed(date("date", at<&LogEntry::date>(), "when it was done")),
      only_set(text("who", at<&LogEntry::who>(), kName, "who did it")),
      choice<&LogEntry::place>("place", keys_of<kLogPlaces>(),
                               "where; weights on wheels are those of both wheels of the axle together", Needed{}),
      choice<&LogEntry::what>("what", keys_of<kLogWhats>(),
                              "what was done; drained and taken_off without a number mean all of it; numbers of "
                              "checked are what was found",
                              Needed{}),
      maybe("volume_l", at<&LogEntry::volume>(), 0, kMostLitres, "liquid pumped in, let out or found"),
      maybe("mass_kg", at<&LogEntry::mass>(), 0, kMostMass, "mass of the weights, or of the liquid"),
      maybe("pressure_kpa", at<&LogEntry::pressure>(), 0, kMostPressure, "gauge pressure set or found, tyre cold"),
      maybe("track_m", at<&LogEntry::track>(), 0.3, kMostTrack, "track set or found"),
      only_set(text("medium", at<&LogEntry::medium>(), kName,
                    "liquid pumped in or found, as in ballast.rear.medium; may be left out where the tyre holds some")),
      maybe("concentration", at<&LogEntry::concentration>(), 0, kMostStrength,
            "mass of dissolved matter over mass of the solution; left out = the medium's usual strength"),
      only_set(date("next_check", at<&LogEntry::next_check>(), "when to look at this place again")),
      only_set(text("note", at<&LogEntry::note>(), 400, "anything else")),
  };
  return kRows;
}

}  // namespace sidehill
