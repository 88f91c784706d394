#include "main/paper/sheet_order.hpp"

#include "base/clock.hpp"
#include "ledger/limits.hpp"
#include "main/find.hpp"
#include "main/paper/sheet_contents.hpp"
#include "main/typed.hpp"
#include "report/sheet/sheet_parts.hpp"
#include "report/tables/chart_file.hpp"
#include "screen/settings/preferences_file.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace platewright::cli {

namespace {

/// What was asked for: by its number where that is known, else by its name.
template <class Record, class Find>
base::Result<Record> asked(const std::vector<Record>& all, const SheetOrder& o, const Find& find) {
    if (o.id == 0)
        return find();
    const auto found = std::ranges::find(all, o.id, &Record::id);
    return found == all.end() ? base::Result<Record>(base::Fault{fmt::format(
                                    "The ledger holds nothing of the number {} any more.", o.id)})
                              : base::Result<Record>(*found);
}

base::Result<ledger::PlateRecord> plate_asked(const ledger::Store& store, const SheetOrder& o) {
    std::vector<ledger::PlateRecord> all;
    for (const ledger::InstrumentSummary& one : store.overview())
        for (const ledger::PlateSummary& plate : one.plates)
            all.push_back(plate.plate);
    return asked(all, o, [&] { return find_plate(store, o.name); });
}

base::Result<ledger::InstrumentRecord> instrument_asked(const ledger::Store& store,
                                                        const SheetOrder& o) {
    std::vector<ledger::InstrumentRecord> all;
    for (const ledger::InstrumentSummary& one : store.overview())
        all.push_back(one.instrument);
    return asked(all, o, [&] { return find_instrument(store, o.name); });
}

base::Result<ledger::WoodHistory> wood_asked(const ledger::Store& store, const SheetOrder& o) {
    if (o.id == 0)
        return find_wood(store, o.name);
    for (ledger::WoodHistory& one : store.wood_stock())
        if (one.wood.id == o.id)
            return std::move(one);
    return base::Fault{fmt::format("The ledger holds no wood of the number {} any more.", o.id)};
}

/// The session others are compared with: the one asked for, else nothing.
base::Result<std::optional<ledger::SessionHistory>> reference_of(const ledger::Store& store,
                                                                 const SheetOrder& o) {
    if (o.reference.empty())
        return std::optional<ledger::SessionHistory>();
    const auto session = o.reference_session != 0 ? base::Result<ledger::Id>(o.reference_session)
                                                  : reference_session(store, o.reference);
    if (!session)
        return session.fault();
    const auto history = store.history_with(*session);
    const auto* one = history ? ledger::session_in(history->sessions, *session) : nullptr;
    return one == nullptr ? std::optional<ledger::SessionHistory>() : std::optional(*one);
}

report::PlateSheet plate_sheet(ledger::PlateHistory history,
                               const std::optional<ledger::SessionHistory>& reference,
                               const std::string& name) {
    std::optional<trends::Comparison> comparison;
    if (reference && !history.sessions.empty())
        comparison = trends::compare(history.sessions.back(), *reference);
    return sheet_of(std::move(history), std::move(comparison), name);
}

void write_figures(const report::PlateSheet& sheet, const SheetOrder& o, WrittenSheet& written) {
    std::error_code ignored; // a folder that can't be made is said by the first figure
    std::filesystem::create_directories(o.figures, ignored);
    const auto path = [&](const char* what) {
        written.figures.push_back(o.figures / fmt::format("{} {}.{}",
                                                          file_name_of(sheet.history.plate.label),
                                                          what, o.kind));
        return written.figures.back();
    };
    const auto kind = *report::picture_kind("figure." + o.kind);
    if (!sheet.history.sessions.empty())
        report::write_chart(report::drift_chart_of(sheet), path("drift"), kind);
    if (sheet.map)
        report::write_chart(sheet.map_picture, path("thickness"), kind);
}

/// Where it is written unless told: the thing's name, here.
std::filesystem::path target(const SheetOrder& o, const std::string& label) {
    return o.file.empty() ? std::filesystem::path(file_name_of(label) + ".pdf") : o.file;
}

base::Result<WrittenSheet> write_wood(const ledger::Store& store, const SheetOrder& o) {
    auto wood = wood_asked(store, o);
    if (!wood)
        return wood.fault();
    std::optional<WoodNamed> beside;
    if (!o.reference.empty()) {
        auto other = find_wood(store, o.reference);
        if (!other)
            return other.fault();
        beside = WoodNamed{(*other).wood.label, *std::move(other)};
    }
    std::vector<std::string> plates;
    for (const ledger::InstrumentSummary& one : store.overview())
        for (const ledger::PlateSummary& plate : one.plates)
            if (std::ranges::count((*wood).plates, plate.plate.id) > 0)
                plates.push_back(plate.plate.label);
    const std::optional<double> moisture =
        typed_number(o.moisture, "--moisture", ledger::k_asked_moisture);
    const report::WoodSheet sheet =
        wood_sheet_of(*std::move(wood), std::move(plates), beside, moisture);
    WrittenSheet written{target(o, sheet.history.wood.label), 0, {}};
    written.pages = report::write_sheet(sheet, written.file, o.size(), base::now());
    return written;
}

base::Result<WrittenSheet> write_instrument(const ledger::Store& store, const SheetOrder& o) {
    const auto reference = reference_of(store, o);
    if (!reference)
        return reference.fault();
    const auto instrument = instrument_asked(store, o);
    if (!instrument)
        return instrument.fault();
    report::InstrumentSheet sheet{*instrument, {}};
    for (const ledger::InstrumentSummary& one : store.overview())
        if (one.instrument.id == instrument->id)
            for (const ledger::PlateSummary& plate : one.plates)
                sheet.plates.push_back(
                    plate_sheet(store.history(plate.plate.id).value(), *reference, o.reference));
    WrittenSheet written{target(o, sheet.instrument.label), 0, {}};
    if (!o.figures.empty())
        for (const report::PlateSheet& plate : sheet.plates)
            write_figures(plate, o, written);
    written.pages = report::write_sheet(sheet, written.file, o.size(), base::now());
    return written;
}

base::Result<WrittenSheet> write_plate(const ledger::Store& store, const SheetOrder& o) {
    const auto reference = reference_of(store, o);
    if (!reference)
        return reference.fault();
    const auto plate = plate_asked(store, o);
    if (!plate)
        return plate.fault();
    const report::PlateSheet sheet =
        plate_sheet(store.history(plate->id).value(), *reference, o.reference);
    WrittenSheet written{target(o, sheet.history.plate.label), 0, {}};
    if (!o.figures.empty())
        write_figures(sheet, o, written);
    written.pages = report::write_sheet(sheet, written.file, o.size(), base::now());
    return written;
}

} // namespace

base::Result<WrittenSheet> write_sheet(const ledger::Store& store, const SheetOrder& o) {
    return o.wood         ? write_wood(store, o)
           : o.instrument ? write_instrument(store, o)
                          : write_plate(store, o);
}

wording::Speaking speaking_for_people(const std::string& code) {
    const screen::Preferences preferences = screen::read_preferences();
    const wording::Language language =
        wording::language_from_code(code).value_or(screen::language_of(preferences));
    return wording::Speaking(
        language, code.empty() ? screen::mark_of(preferences)
                               : preferences.mark.value_or(wording::usual_mark(language)));
}

} // namespace platewright::cli
