#include "base/clock.hpp"
#include "bench/settings.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/plate/drift_targets.hpp"
#include "main/plate/plan_text.hpp"
#include "main/typed.hpp"
#include "screen/draw/plate_pictures.hpp"
#include "trends/decision/goal_range.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <memory>

namespace platewright::cli {
namespace {

struct PlanOptions {
    std::string plate, session, reference, alike = "frequency", least, deepest, platform, air, pass,
                                           draw = "pass";
    std::vector<std::string> targets;
    bool lopsided = false, target_is_right = false;
    const CLI::Option* in_air = nullptr;
    std::filesystem::path chart;
};

plate::PlanLimits limits_of(const PlanOptions& o, modes::InstrumentKind kind) {
    plate::PlanLimits limits = trends::usual_limits(kind);
    limits.least_mm =
        typed_number(o.least, "--least", ledger::k_least_left).value_or(limits.least_mm);
    limits.deepest_mm =
        typed_number(o.deepest, "--deepest", ledger::k_deepest_hollow).value_or(limits.deepest_mm);
    limits.field.edge_mm = typed_number(o.platform, "--platform", ledger::k_left_at_edge)
                               .value_or(limits.field.edge_mm);
    if (const auto share = typed_number(o.pass, "--pass", ledger::k_pass_share))
        limits.pass_share = *share / 100.0;
    limits.field.symmetric = !o.lopsided;
    return limits;
}

/// Where nothing is typed, the targets that are kept with the plate.
trends::PlanRequest plan_request(const PlanOptions& o, const ledger::Store& store,
                                 const ledger::PlateHistory& history) {
    trends::PlanRequest request;
    request.limits = limits_of(o, history.instrument.kind);
    if (o.in_air->count() > 0)
        request.wish_air = o.air.empty() ? bench::remembered_air(store) : parse_air(o.air);
    for (const std::string& text : o.targets) {
        const ledger::TargetRecord wish = parse_target(text);
        if (wish.frequency_hz > 0.0) // N=none wishes nothing
            request.wishes.push_back({wish.number, wish.frequency_hz});
    }
    if (o.targets.empty() && o.reference.empty()) {
        request.wishes = trends::goals_of(history);
        if (request.wishes.empty())
            throw CLI::ValidationError(
                "plan",
                "needs something to aim at: --target MODE=HZ, or --reference NAME; no targets "
                "are kept with this plate (drift --remember)");
    }
    if (o.reference.empty())
        return request;
    const ledger::Id session = needed(reference_session(store, o.reference));
    request.reference_label = o.reference;
    request.alike =
        o.alike == "ratio" ? plate::Likeness::equal_ratio : plate::Likeness::equal_frequency;
    if (const auto other = store.history_with(session))
        trends::refer_to(request, *other, session);
    if (request.reference.empty())
        throw Refusal{fmt::format("“{}” has no named mode: nothing to be like.", o.reference),
                      k_nothing_found};
    return request;
}

ExitCode make_plan(const PlanOptions& o, const Common& common) {
    const ledger::Store store = needed(open_to_read(common.ledger_folder()));
    const ledger::PlateHistory history = needed(find_history(store, o.plate));
    const trends::PlanRequest request = plan_request(o, store, history);
    if (!o.targets.empty() && !o.target_is_right)
        if (const std::string question = trends::question_to(request.wishes, history);
            !question.empty())
            return refuse(question +
                              " Nothing was planned; --target-is-right plans it all the same.",
                          k_unusable);
    const std::size_t session = needed(find_session(history, o.session));
    auto study = needed(trends::study_plate(history, session));
    if (const auto fault = trends::fault_in(request.wishes))
        return refuse(fault->what, k_unusable);
    auto answer = needed(trends::answer(study, request));
    ShownPlan shown{history,
                    std::move(study),
                    std::move(answer),
                    trends::hindsight_of(history, session),
                    !o.reference.empty() ? "reference"
                    : o.targets.empty()  ? "kept"
                                         : "typed",
                    {}};
    if (shown.hindsight)
        trends::review_carving(history, *shown.hindsight);
    if (!shown.answer.plan.cautions.empty()) // which say the fit's doubt already
        std::erase(shown.study.remarks, shown.study.fit.doubt);
    if (shown.answer.worth_keeping)
        shown.not_kept = keep_plan(shown.answer.record, common.ledger_folder(), "plan");
    common.json ? print(to_json(shown)) : say(shown);
    const plate::Plan& plan = shown.answer.plan;
    if (!o.chart.empty() && plan.status != plate::PlanStatus::modes_lost) {
        const bool whole = o.draw == "all";
        auto picture = screen::plan_picture(shown.study, whole ? plan.removal_mm : plan.pass_mm,
                                            history.form->two_piece);
        picture.title = fmt::format(
            "{}, {}, {}", history.plate.label, whole ? "all of the plan" : "the plan's next pass",
            screen::sides_of(history.plate.part, shown.study.model->form().bar, false));
        draw_chart(picture, o.chart, common, "map");
    }
    return k_done;
}

} // namespace

void add_plan(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand(
        "plan", "Where to take how much wood, so that modes come to where you want them");
    command->footer("The plate's model is fitted to all of its sessions that have a thickness map "
                    "(`platewright caliper`). Modes\n"
                    "1, 2 and 5 are held softly where nothing is asked of them. Without --target "
                    "and --reference it aims at the\n"
                    "targets that `platewright drift --remember` keeps. The plan is kept, and held "
                    "against the next session.\n"
                    "A target is your own. Wood taken off can't be put back: take one pass, then "
                    "tap and plan again.\n\n"
                    "  platewright plan \"Wren back\" --target 5=352 --target 2=168\n"
                    "  platewright plan \"Wren back\" --reference \"Heron back\" --alike ratio "
                    "--chart pass.pdf");
    auto o = std::make_shared<PlanOptions>();
    add_plate(*command, o->plate);
    repeated(*command, "--target", o->targets,
             "A mode and where it should be; may be given several times [the plate's own, if kept]",
             "MODE=HZ");
    add_target_is_right(*command, o->target_is_right);
    option(*command, "--reference", o->reference,
           "Modes 1, 2 and 5 as a reference, or another plate, has them", "NAME");
    choice(*command, "--alike", o->alike, "Alike in frequency, or in ratio to mode 2",
           {"frequency", "ratio"});
    option(*command, "--least", o->least,
           "No place thinner than this, in mm [2; a cello 3, a bass 4.5]", "MM");
    option(*command, "--deepest", o->deepest,
           "No hollow deeper than this below the graduation, earlier passes counted, in mm [0.6]",
           "MM");
    option(*command, "--platform", o->platform,
           "Leave this much along the edge alone, in mm [12; a cello 18, a bass 25]", "MM");
    option(*command, "--pass", o->pass, "How much of it is one pass, in % [as the bench advises]",
           "PCT");
    command->add_flag("--lopsided", o->lopsided, "Left and right may differ");
    o->in_air = add_air(*command, o->air,
                        "The air your targets are meant in [that of the session; alone: the one "
                        "remembered, else 20:50]");
    option(*command, "--session", o->session,
           "Plan from this session, by date or number [the newest]", "SESSION");
    add_chart(*command, o->chart, "Draw where to take wood");
    choice(*command, "--draw", o->draw, "What the chart shows: the next pass, or all",
           {"pass", "all"});
    finish(*command, common, chosen, o, make_plan);
}

} // namespace platewright::cli
