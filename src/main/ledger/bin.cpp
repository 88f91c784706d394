#include "base/clock.hpp"
#include "base/failure.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/json.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <memory>

namespace platewright::cli {
namespace {

struct BinOptions {
    std::string kind;
    ledger::Id number = 0;
};

Json binned_json(const ledger::BinnedThing& thing) {
    return {
        {"kind", thing.table}, {"id", thing.id}, {"what", thing.what}, {"binned", thing.binned}};
}

ExitCode list_bin(const ledger::Store& store, bool json) {
    const std::vector<ledger::BinnedThing> things = store.in_the_bin();
    if (json) {
        print({{"schema", "platewright.bin/1"},
               {"things", array_of(things, binned_json)},
               {"taken_out", nullptr}});
        return k_done;
    }
    Table table({"kind", "number", "binned", "what"});
    for (const ledger::BinnedThing& thing : things)
        table.row({thing.table, std::to_string(thing.id), base::local_date_time(thing.binned),
                   thing.what});
    say(table.empty() ? "The bin is empty." : table.text());
    return k_done;
}

ExitCode take_out_of_bin(ledger::Store store, const BinOptions& o, bool json) {
    const std::vector<ledger::BinnedThing> things = store.in_the_bin();
    const auto thing = std::find_if(things.begin(), things.end(), [&](const auto& t) {
        return t.table == o.kind && t.id == o.number;
    });
    if (thing == things.end())
        return refuse(
            fmt::format("The bin holds no {} of number {}: `platewright bin` lists what it holds.",
                        o.kind, o.number),
            k_nothing_found);
    store.unbin(o.kind, o.number);
    if (json)
        print({{"schema", "platewright.bin/1"},
               {"things", Json::array()},
               {"taken_out", binned_json(*thing)}});
    else
        say(fmt::format("Out of the bin again: {}", thing->what));
    return k_done;
}

ExitCode bin(const BinOptions& o, const Common& common) {
    const ledger::Store store = needed(open_to_read(common.ledger_folder()));
    return o.kind.empty() ? list_bin(store, common.json)
                          : take_out_of_bin(open_to_write(common.ledger_folder()), o, common.json);
}

} // namespace

void add_bin(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand("bin", "What lies in the bin, and out of it again");
    command->footer("Nothing in the bin is gone: it is left out of lists and charts, with all that "
                    "belongs to it.\n\n"
                    "  platewright bin\n"
                    "  platewright bin session 12");
    auto o = std::make_shared<BinOptions>();
    auto* kind = command->add_option("KIND", o->kind,
                                     "What to take out: instrument, plate, session, tap, …");
    command->add_option("NUMBER", o->number, "Its number in the list")->needs(kind);
    finish(*command, common, chosen, o, bin);
}

} // namespace platewright::cli
