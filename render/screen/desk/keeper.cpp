#include "render/screen/desk/keeper.h"

#include "render/screen/desk/files.h"

namespace sidehill::screen {
namespace {

unsigned edits_of(const Desk& desk) { return desk.session.edits() + (desk.other ? 1 + desk.other->edits() : 0); }

void write(Keeper& keeper, const Desk& desk) {
  const EditedScenes work = desk.parked ? *desk.parked : work_of(desk);
  keep_unsaved(keeper.folder, work.scene, work.other ? &*work.other : nullptr);
  keeper.holds = true;
  keeper.kept = edits_of(desk);
  keeper.document = work.document;
}

}  // namespace

void look(Keeper& keeper, const Desk& desk, double time) {
  if (desk.parked && keeper.holds) return;  // what is kept is the person's own; a lesson is nobody's work
  if (keeper.holds && keeper.document != desk.document) {
    put_by(keeper.folder, ++keeper.put_by);  // another file was opened over it
    keeper.holds = false;
  }
  if (keeper.kept == edits_of(desk) && keeper.document == desk.document && !keeper.holds) return;
  if (!worth_keeping(desk)) {
    if (keeper.holds) keep_unsaved(keeper.folder, {});
    keeper.holds = false;
    keeper.kept = edits_of(desk);
    keeper.document = desk.document;
  } else if ((keeper.kept != edits_of(desk) || !keeper.holds) && time - keeper.at > Keeper::kEvery) {
    write(keeper, desk);
    keeper.at = time;
  }
}

void finish(Keeper& keeper, const Desk& desk) {
  if (worth_keeping(desk) && (!keeper.holds || (keeper.kept != edits_of(desk) && !desk.parked))) write(keeper, desk);
}

}  // namespace sidehill::screen
