#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/plate/hand_options.hpp"
#include "main/plate/plan_text.hpp"
#include "main/plate/weighing_text.hpp"
#include "main/question.hpp"
#include "main/typed.hpp"

#include <memory>

namespace platewright::cli {
namespace {

struct RehearseOptions {
    std::string plate, session, at, depth = "0.2", across = "60";
    bool keep = false;
};

ExitCode rehearse(const RehearseOptions& o, const Common& common) {
    plate::Cut cut;
    cut.depth_mm = *typed_number(o.depth, "--depth", ledger::k_cut_depth);
    cut.across_mm = *typed_number(o.across, "--across", ledger::k_cut_across);
    const ledger::Store store = needed(open_to_read(common.ledger_folder()));
    const ledger::PlateHistory history = needed(find_history(store, o.plate));
    const auto study =
        needed(trends::study_plate(history, needed(find_session(history, o.session))));
    cut.at = needed(place_of(o.at, study.model->form().outline), k_unusable);
    trends::CutTrial trial = needed(trends::try_cut(study, cut));
    const auto beyond = trends::beyond_goals(trial, trends::report_on(question_on(history)).goals);
    common.json ? print(to_json(trial, beyond)) : say(trial, beyond, history.plate.label);
    if (!common.json)
        say(study.remarks, "");
    if (!o.keep)
        return k_done;
    if (const std::string why = keep_plan(trial.record, common.ledger_folder(), "forecast");
        !why.empty())
        return refuse(why, k_unusable);
    if (!common.json)
        say("Kept: the next session's taps will be held against it.");
    return k_done;
}

} // namespace

void add_rehearse(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand(
        "rehearse", "Try a cut on the plate's model before it is made on the wood");
    command->footer(
        "Full depth in the middle of the place, nothing at its rim. Says what each mode would do, "
        "how sure that is, and\n"
        "what to measure first to make it surer (`platewright weigh`). Wood taken off can't be put "
        "back.\n\n"
        "  platewright rehearse \"Wren back\" --at 40:95 --depth 0.3 --across 70\n"
        "  platewright rehearse \"Wren back\" --at centre --keep");
    auto o = std::make_shared<RehearseOptions>();
    add_plate(*command, o->plate);
    add_session(*command, o->session);
    command->add_option("--at", o->at, "Where, seen from the outside: in mm, or a place's name")
        ->required()
        ->type_name("X:Y|PLACE");
    command->add_option("--depth", o->depth, "How deep in the middle")
        ->capture_default_str()
        ->type_name("MM");
    command->add_option("--across", o->across, "How large the place is")
        ->capture_default_str()
        ->type_name("MM");
    command->add_flag("--keep", o->keep,
                      "You are going to make it: hold the next session's taps against it");
    finish(*command, common, chosen, o, rehearse);
}

} // namespace platewright::cli
