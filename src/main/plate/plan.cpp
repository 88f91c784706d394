#include "base/clock.hpp"
#include "base/text.hpp"
#include "bench/settings.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/plate/drift_targets.hpp"
#include "main/plate/plan_text.hpp"
#include "screen/draw/plate_pictures.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <memory>

namespace platewright::cli {
namespace {

struct PlanOptions {
    std::string plate, session, reference, alike = "frequency", least, deepest, platform, air, pass,
                                           draw = "pass";
    std::vector<std::string> targets;
    bool lopsided = false, in_air = false;
    std::filesystem::path chart;
};

double number_typed(const std::string& text, const char* option, double low, double high,
                    const char* unit) {
    const auto value = base::parse_number(text);
    if (!value || *value < low || *value > high)
        throw CLI::ValidationError(
            option, fmt::format("“{}” can't be: give {} to {} {}", text, low, high, unit));
    return *value;
}

/// MODE=HZ, checked as far as it can be without the plate.
trends::Goal parse_wish(const std::string& text) {
    const auto equals = std::min(text.find('='), text.size());
    const double mode = base::parse_number(text.substr(0, equals)).value_or(0);
    const double hz =
        base::parse_number(text.substr(std::min(equals + 1, text.size()))).value_or(0);
    if (mode < 1 || mode > 30 || std::floor(mode) < mode || hz < 10 || hz > 5000)
        throw CLI::ValidationError(
            "--target", fmt::format("“{}” is no target: give MODE=HZ, for instance 5=350", text));
    return {static_cast<int>(mode), hz};
}

plate::PlanLimits limits_of(const PlanOptions& o, modes::InstrumentKind kind) {
    plate::PlanLimits limits = trends::usual_limits(kind);
    if (!o.least.empty())
        limits.least_mm = number_typed(o.least, "--least", 0.5, 15, "mm");
    if (!o.deepest.empty())
        limits.deepest_mm = number_typed(o.deepest, "--deepest", 0.05, 5, "mm");
    if (!o.platform.empty())
        limits.field.edge_mm = number_typed(o.platform, "--platform", 0, 60, "mm");
    if (!o.pass.empty())
        limits.pass_share = number_typed(o.pass, "--pass", 5, 100, "%") / 100.0;
    limits.field.symmetric = !o.lopsided;
    return limits;
}

/// Where nothing is typed, the targets that are kept with the plate.
trends::PlanRequest plan_request(const PlanOptions& o, const ledger::Store& store,
                                 const ledger::PlateHistory& history) {
    trends::PlanRequest request;
    request.limits = limits_of(o, history.instrument.kind);
    if (o.in_air)
        request.wish_air = o.air.empty() ? bench::remembered_air(store) : parse_air(o.air);
    for (const std::string& text : o.targets)
        request.wishes.push_back(parse_wish(text));
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

/// Keeps the plan, so that it can be held against what happens; says why where it can't.
std::string keep_plan(ledger::PlanRecord record, const std::filesystem::path& folder) {
    ledger::Store store = open_to_write(folder);
    if (store.read_only())
        return fmt::format("The plan is not kept, because the ledger can only be read: {}.",
                           store.why_read_only());
    record.made = base::now();
    store.add(record);
    return {};
}

ExitCode make_plan(const PlanOptions& o, const Common& common) {
    const auto kind = needed(chart_kind(o.chart), k_wrong_usage);
    const ledger::Store store = needed(open_to_read(common.ledger_folder()));
    const ledger::PlateHistory history =
        store.history(needed(find_plate(store, o.plate)).id).value();
    const trends::PlanRequest request = plan_request(o, store, history);
    const std::size_t session = needed(find_session(history, o.session));
    auto study = needed(trends::study_plate(history, session));
    if (const auto fault = trends::fault_in(study, request))
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
        shown.not_kept = keep_plan(shown.answer.record, common.ledger_folder());
    common.json ? print(to_json(shown)) : say(shown);
    const plate::Plan& plan = shown.answer.plan;
    if (kind && plan.status != plate::PlanStatus::modes_lost) {
        const bool whole = o.draw == "all";
        auto picture = screen::plan_picture(shown.study, whole ? plan.removal_mm : plan.pass_mm,
                                            history.form->two_piece);
        picture.title = fmt::format("{}, {}", history.plate.label,
                                    whole ? "all of the plan" : "the plan's next pass");
        report::write_chart(picture, o.chart, *kind);
        if (!common.json)
            say(fmt::format("The map is in {}", o.chart.string()));
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
    command->add_option("PLATE", o->plate, "The plate, by name or number")->required();
    command
        ->add_option(
            "--target", o->targets,
            "A mode and where it should be; may be given several times [the plate's own, if kept]")
        ->allow_extra_args(false)
        ->type_name("MODE=HZ");
    command
        ->add_option("--reference", o->reference,
                     "Modes 1, 2 and 5 as a reference, or another plate, has them")
        ->type_name("NAME");
    command->add_option("--alike", o->alike, "Alike in frequency, or in ratio to mode 2")
        ->check(CLI::IsMember({"frequency", "ratio"}))
        ->capture_default_str();
    command
        ->add_option("--least", o->least,
                     "No place thinner than this, in mm [2; a cello 3, a bass 4.5]")
        ->type_name("MM");
    command
        ->add_option(
            "--deepest", o->deepest,
            "No hollow deeper than this below the graduation, earlier passes counted, in mm [0.6]")
        ->type_name("MM");
    command
        ->add_option("--platform", o->platform,
                     "Leave this much along the edge alone, in mm [12; a cello 18, a bass 25]")
        ->type_name("MM");
    command
        ->add_option("--pass", o->pass, "How much of it is one pass, in % [as the bench advises]")
        ->type_name("PCT");
    command->add_flag("--lopsided", o->lopsided, "Left and right may differ");
    auto* air = command
                    ->add_option("--air", o->air,
                                 "The air your targets are meant in [that of the session; alone: "
                                 "the one remembered, else 20:50]")
                    ->expected(0, 1)
                    ->type_name("C:PCT");
    command
        ->add_option("--session", o->session,
                     "Plan from this session, by date or number [the newest]")
        ->type_name("SESSION");
    command
        ->add_option("--chart", o->chart, "Draw where to take wood into a file: .png, .svg or .pdf")
        ->type_name("FILE");
    command->add_option("--draw", o->draw, "What the chart shows: the next pass, or all")
        ->check(CLI::IsMember({"pass", "all"}))
        ->capture_default_str();
    add_ledger(*command, common);
    add_json(*command, common);
    command->callback([&chosen, &common, o, air] {
        o->in_air = air->count() > 0;
        chosen = [&common, o] { return make_plan(*o, common); };
    });
}

} // namespace platewright::cli
