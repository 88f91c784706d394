#include "base/interval.hpp"
#include "base/text.hpp"
#include "bench/workbench.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/json.hpp"
#include "main/plate/hand_options.hpp"
#include "main/plate/weighing_text.hpp"
#include "main/strikes/enter_recordings.hpp"
#include "main/tables.hpp"
#include "main/typed.hpp"
#include "trends/model/plate_form.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <memory>

namespace platewright::cli {
namespace {

struct WeighOptions {
    std::string plate, session, at;
    FieldOptions<ledger::WeighingRecord> of_weighing;
    std::vector<std::filesystem::path> files;
    std::vector<ledger::Id> put_away;
    int channel = 1;
    modes::FitParams fit;
    bool is_band_said = false;
};

/// The weighings of the session, and the model's word on them where there is one.
ExitCode show_weighings(const ledger::Store& store, ledger::Id plate, std::size_t session,
                        const Common& common) {
    const ledger::PlateHistory history = store.history(plate).value();
    const ledger::SessionHistory& one = history.sessions.at(session);
    if (one.weighings.empty())
        return refuse(fmt::format("The session of {} has no weighing yet: give a recording, a "
                                  "place (--at) and a mass (--mass).",
                                  base::local_date(one.session.begun)),
                      k_nothing_found);
    const auto study = trends::study_plate(history, session);
    const ShownWeighings shown{history, session, study ? &*study : nullptr};
    common.json ? print(to_json(shown)) : say(shown);
    return k_done;
}

ExitCode weigh(WeighOptions o, const Common& common) {
    const bool takes_in = !o.files.empty();
    ledger::WeighingRecord weighing;
    if (takes_in) {
        if (o.at.empty() || !o.of_weighing.said("mass"))
            throw CLI::ValidationError("weigh", "needs where the mass lay (--at) and how heavy it "
                                                "is (--mass)");
        weighing = o.of_weighing.put_into(weighing);
        for (const auto& path : o.files)
            if (const auto opened = open_to_hear(path, o.channel - 1, o.fit); !opened)
                return refuse(opened.fault().what + " Nothing was entered.", k_unusable);
    }
    ledger::Store store = open_to_write(common.ledger_folder());
    const ledger::Id plate = needed(find_plate(store, o.plate)).id;
    ledger::PlateHistory history = store.history(plate).value();
    const std::size_t session = needed(find_session(history, o.session));
    const ledger::SessionHistory& one = history.sessions.at(session);
    for (const ledger::Id id : o.put_away)
        if (std::ranges::find(one.weighings, id, &ledger::WeighingRecord::id) ==
            one.weighings.end())
            return refuse(fmt::format("This session has no weighing {}. Nothing was stored.", id),
                          k_nothing_found);
    for (const ledger::Id id : o.put_away)
        store.bin("weighing", id);
    if (!takes_in)
        return !o.put_away.empty() && one.weighings.size() == o.put_away.size()
                   ? k_done
                   : show_weighings(store, plate, session, common);
    if (store.read_only())
        return refuse(fmt::format("The ledger can only be read now, because {}. Nothing was "
                                  "entered.",
                                  store.why_read_only()),
                      k_unusable);
    const plate::Outline outline = needed(trends::outline_of(trends::form_of(history)), k_unusable);
    weighing.at = needed(place_of(o.at, outline), k_unusable);
    weighing.place = base::parse_number(o.at.substr(0, o.at.find(':'))) ? "" : o.at;
    if (!o.is_band_said)
        o.fit = usual_fit(history);
    bench::Workbench bench(store, o.fit);
    bench.open_plate(plate);
    bench.open_session(one.session.id);
    const ledger::Id id = bench.begin_weighing(weighing);
    int with = 0;
    for (const auto& path : o.files) {
        const Heard heard = hear(path, o.channel - 1, o.fit, [&](bench::HeardTap& tap) {
            bench.judge(tap);
            with += tap.tap.verdict == taps::Verdict::weighed ? 1 : 0;
            bench.keep(tap);
            if (!common.json)
                say(tap_line(tap));
        });
        if (!heard.trouble.empty())
            complain(heard.trouble);
    }
    bench.settle();
    bench.end_weighing();
    if (with == 0)
        return refuse("No tap rang with the mass on: all modes stand where the bare plate's are. "
                      "The taps are kept as the bare plate's; nothing was weighed.",
                      k_nothing_found);
    if (!common.json)
        say(fmt::format("Weighing {}: {} taps with the mass on.", id, with));
    return show_weighings(store, plate, session, common);
}

} // namespace

void add_weigh(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand(
        "weigh", "Weigh a plate's modes at a place, with a small mass laid on and taken off");
    command->footer(
        "FILE holds taps of the plate left hanging: bare, with the mass on, bare again, in that "
        "order; which is which\n"
        "is heard. A hundredth of the plate's mass is enough (1 g of putty, a pair of magnets), "
        "weighed to 0.02 g. The\n"
        "modes fall by what the place weighs in each of them: it leaves no mark, and tells what a "
        "scraper would do\n"
        "there. Without FILE the weighings of the session are shown.\n\n"
        "  platewright weigh \"Wren back\" off-on-off.flac --at 0:178 --mass 1.02\n"
        "  platewright weigh \"Wren back\"");
    auto o = std::make_shared<WeighOptions>();
    add_plate(*command, o->plate);
    command->add_option("FILE", o->files, "Recordings of taps, in order");
    add_session(*command, o->session);
    option(*command, "--at", o->at,
           "Where the mass lay, seen from the outside: in mm, or a place's name", "X:Y|PLACE");
    o->of_weighing.add_to(*command);
    repeated(*command, "--put-away", o->put_away, "Put a weighing into the bin, by its number",
             "N");
    add_channel(*command, o->channel);
    add_band(*command, o->fit, &o->is_band_said);
    finish(*command, common, chosen, o, weigh);
}

} // namespace platewright::cli
