#include "screen/files_view.hpp"

#include "base/text.hpp"
#include "screen/drafts.hpp"
#include "screen/fields.hpp"
#include "screen/parts.hpp"

#include <algorithm>
#include <array>

namespace platewright::screen {
namespace {
using plot::Box;
using What = PrintOrder::What;
using wording::Phrase;

std::string copy_line(const ledger::LaidCopy& copy) {
    switch (copy.kind) {
    case ledger::LaidCopy::Kind::regular:
        break;
    case ledger::LaidCopy::Kind::before_change:
        return std::string(say("laid aside before a change"));
    case ledger::LaidCopy::Kind::replaced:
        return std::string(say("what a copy replaced"));
    }
    return std::string(say("laid aside as you worked"));
}

} // namespace

void FilesView::draw(const Sight& sight, Box area) {
    keep_listed(sight);
    const double scale = sight.look.scale;
    {
        const Page page(sight, "kinds", next_column(sight, area, 380.0 * scale));
        choices(sight);
        errand(sight);
    }
    const Page page(sight, "sheet", next_column(sight, area, area.width()));
    switch (sheet_) {
    case Sheet::paper:
        paper(sight);
        break;
    case Sheet::recordings:
        recordings(sight);
        break;
    case Sheet::bundles:
        bundles(sight);
        break;
    case Sheet::copies:
        copies(sight);
        break;
    case Sheet::bin:
        bin(sight);
        break;
    }
}

/// Copies and the bin are listed anew when the ledger has changed.
void FilesView::keep_listed(const Sight& sight) {
    const std::pair<const void*, const void*> now{sight.now.instruments.get(),
                                                  sight.now.plate.get()};
    if (listed_ != now) {
        listed_ = now;
        sight.send(bench::command::ListKept{});
    }
}

void FilesView::choices(const Sight& sight) {
    struct Choice {
        Sheet sheet;
        Phrase main, second;
    };
    constexpr std::array all{
        Choice{Sheet::paper, Phrase("Paper"), Phrase("sheets to print, charts as files")},
        Choice{Sheet::recordings, Phrase("Recordings"),
               Phrase("taps recorded elsewhere become a session")},
        Choice{Sheet::bundles, Phrase("Bundles"), Phrase("to another computer, or from one")},
        Choice{Sheet::copies, Phrase("Copies"), Phrase("of the ledger, and putting one back")},
        Choice{Sheet::bin, Phrase("Bin"), Phrase("what was put away, and back out of it")}};
    int id = 0;
    for (const Choice& choice : all) {
        if (row(sight, ++id, say(choice.main), say(choice.second), sheet_ == choice.sheet)) {
            sheet_ = choice.sheet;
            complaint_.clear();
            copy_.clear();
        }
    }
    if (!sight.now.undoable.empty() &&
        flow_press(sight, say("Undo: {}", sight.now.undoable), say("Ctrl Z"))) {
        sight.send(bench::command::UndoLast{});
    }
}

/// What is being done, or what came of it.
void FilesView::errand(const Sight& sight) {
    const auto& errand = sight.now.errand;
    if (!told_.empty()) {
        text(sight, told_);
    }
    if (!errand) {
        return;
    }
    heading(sight, errand->doing);
    if (!errand->done) {
        if (errand->share > 0.0) {
            faint_text(sight, say("{} % done", figure(100.0 * errand->share, 0)));
        }
        if (flow_press(sight, say("Stop"))) {
            sight.send(bench::command::StopWork{});
        }
        return;
    }
    const bench::ErrandOutcome& outcome = errand->outcome;
    if (outcome.good) {
        text(sight, outcome.sentence);
    } else {
        complaint(sight, outcome.sentence);
    }
    if (outcome.good && !outcome.file.empty() && sight.outside.show_file &&
        flow_press(sight, say("Show it"), {}, true)) {
        told_ = sight.outside.show_file(outcome.file);
    }
    for (const std::string& one : outcome.lines) {
        faint_text(sight, one);
    }
}

std::filesystem::path FilesView::folder(const Sight& sight) const {
    return !sight.wishes.paper_folder.empty() ? std::filesystem::path(sight.wishes.paper_folder)
           : sight.outside.folder             ? sight.outside.folder()
                                              : std::filesystem::path();
}

void FilesView::folder_fields(const Sight& sight) {
    if (folder_typed_.empty()) {
        folder_typed_ = folder(sight).string();
    }
    field(sight, say("folder for what is written"), folder_typed_, 620);
    if (ImGui::IsItemDeactivatedAfterEdit()) {
        sight.wishes.paper_folder = std::string(base::trimmed(folder_typed_));
        folder_typed_.clear();
    }
}

void FilesView::paper(const Sight& sight) {
    heading(sight, say("Paper"));
    const auto order = [&](What what, ledger::Id id) {
        told_.clear();
        const ledger::Id reference =
            what != What::wood && sight.now.plate && sight.now.plate->reference
                ? sight.now.plate->reference->session
                : 0;
        sight.send(bench::command::RunErrand{sight.outside.print({.what = what,
                                                                  .id = id,
                                                                  .reference = reference,
                                                                  .figures = figures_,
                                                                  .letter = sight.wishes.letter,
                                                                  .folder = folder(sight)})});
    };
    if (!sight.outside.print) {
        faint_text(sight, say("This window can't write files."));
        return;
    }
    if (sight.now.plate) {
        const ledger::PlateHistory& history = sight.now.plate->history;
        text(sight, plate_name(history.instrument, history.plate));
        if (flow_press(sight, say("Write this plate's sheet"), "P", true) ||
            sight.keys.take(U'p')) {
            order(What::plate, history.plate.id);
        }
        if (flow_press(sight, say("Write the instrument's record"), {}, false, true)) {
            order(What::instrument, history.instrument.id);
        }
        if (flow_press(sight, say("Write its page for a browser"), {}, false, true)) {
            order(What::page, history.instrument.id);
        }
    } else {
        faint_text(sight, say("No plate on the bench"));
    }
    std::size_t figures = figures_ ? 1 : 0;
    const std::array<std::string, 2> with{std::string(say("no")), std::string(say("yes"))};
    if (flow_choice(sight, say("its charts too, each in a file of its own"), with, figures)) {
        figures_ = figures == 1;
    }
    std::size_t size = sight.wishes.letter ? 1 : 0;
    const std::array<std::string, 2> sizes{"A4", std::string(say("US letter"))};
    if (flow_choice(sight, say("paper"), sizes, size)) {
        sight.wishes.letter = size == 1;
    }
    folder_fields(sight);
    faint_text(sight, say("A sheet is a PDF file: show it, and print it from there."));
    heading(sight, say("Wood"));
    if (!sight.now.stock && !asked_stock_) {
        asked_stock_ = true;
        sight.send(bench::command::StudyStock{});
    }
    if (!sight.now.stock || sight.now.stock->woods.empty()) {
        faint_text(sight, say("No wood in stock yet (F9)."));
        return;
    }
    for (const bench::StockedWood& wood : sight.now.stock->woods) {
        const ledger::WoodRecord& record = wood.history.wood;
        ImGui::PushID("wood");
        if (row(sight, static_cast<int>(record.id), record.label, say("write its sheet"), false)) {
            order(What::wood, record.id);
        }
        ImGui::PopID();
    }
}

void FilesView::recordings(const Sight& sight) {
    heading(sight, say("Take recordings in"));
    if (!sight.outside.enter || !sight.now.plate) {
        faint_text(sight, say("Put the plate that was recorded on the bench first (F4)."));
        return;
    }
    const ledger::PlateHistory& history = sight.now.plate->history;
    text(sight, say("They become a session of {}. Choose one or more files:",
                    plate_name(history.instrument, history.plate)));
    sounds_.draw(sight, "sounds", 240.0);
    std::vector<std::string> stages;
    for (const modes::Stage stage : modes::stages_of(history.plate.part)) {
        stages.emplace_back(modes::to_text(stage));
    }
    stage_ = std::min(stage_, stages.size() - 1);
    drop_down(sight, say("stage of the work"), stages, stage_, 260);
    field(sight, say("mass, g"), mass_.text, 160, false, &complaint_);
    field(sight, say("day, or day and time; empty: the file's own"), date_, 260, false,
          &complaint_);
    if (!sounds_.chosen().empty() &&
        flow_press(sight,
                   say_count(std::ssize(sounds_.chosen()), "Take {} file in", "Take {} files in"),
                   {}, true)) {
        enter(sight);
    }
    faint_text(sight, say("While they are read the bench does not hear. Taps that the plate has "
                          "already are not taken twice."));
}

void FilesView::enter(const Sight& sight) {
    const ledger::PlateHistory& history = sight.now.plate->history;
    const auto grams = mass_.number(say("The mass"), 1, 20000, "g");
    const std::string_view typed = base::trimmed(date_);
    const auto begun = typed.empty() ? std::nullopt : base::from_typed(typed);
    complaint_ =
        !grams ? Complaint{grams.fault().what, std::string(say("mass, g"))}
        : !typed.empty() && !begun
            ? Complaint{say("“{}” is no date: type 2026-03-14, 14.3.2026, or one of these and a "
                            "time.",
                            typed),
                        std::string(say("day, or day and time; empty: the file's own"))}
            : Complaint{};
    if (!complaint_.empty()) {
        return;
    }
    told_.clear();
    sight.send(bench::command::RunErrand{
        sight.outside.enter({.plate = history.plate.id,
                             .files = sounds_.chosen(),
                             .begun = begun,
                             .stage = modes::stages_of(history.plate.part).at(stage_),
                             .mass_g = *grams})});
    sounds_.forget();
    mass_ = {};
    date_.clear();
}

void FilesView::bundles(const Sight& sight) {
    heading(sight, say("A bundle"));
    text(sight, say("One file with plates, sessions, taps and their sound, for another computer or "
                    "a colleague."));
    if (!sight.outside.take_out || !sight.outside.take_in) {
        faint_text(sight, say("This window can't write files."));
        return;
    }
    take_out(sight);
    take_in(sight);
}

void FilesView::take_out(const Sight& sight) {
    heading(sight, say("Out"));
    const auto order = [&](ledger::Id plate, ledger::Id instrument, const std::string& name) {
        told_.clear();
        sight.send(bench::command::RunErrand{sight.outside.take_out(
            {.plate = plate, .instrument = instrument, .name = name, .folder = folder(sight)})});
    };
    if (sight.now.plate) {
        const ledger::PlateHistory& history = sight.now.plate->history;
        if (flow_press(sight, say("This plate"))) {
            order(history.plate.id, 0, plate_name(history.instrument, history.plate));
        }
        if (flow_press(sight, say("Its instrument"), {}, false, true)) {
            order(0, history.instrument.id, history.instrument.label);
        }
    }
    if (flow_press(sight, say("The whole ledger"), {}, false, sight.now.plate != nullptr)) {
        order(0, 0, std::string(say("ledger")) + " " + base::local_date(base::now()));
    }
    folder_fields(sight);
}

void FilesView::take_in(const Sight& sight) {
    heading(sight, say("In"));
    bundles_.draw(sight, "bundles", 190.0);
    const auto order = [&](const std::filesystem::path& file, bool only_look) {
        told_.clear();
        looked_at_ = only_look ? file : std::filesystem::path();
        sight.send(
            bench::command::RunErrand{sight.outside.take_in(file, only_look, prefer_bundle_)});
    };
    if (!bundles_.chosen().empty()) {
        const std::filesystem::path& file = bundles_.chosen().front();
        if (flow_press(sight, say("Look what is in it"), {}, true)) {
            order(file, true);
        }
        const bool looked = looked_at_ == file && sight.now.errand && sight.now.errand->done &&
                            sight.now.errand->outcome.needs_a_second_word;
        if (looked) {
            std::size_t whose = prefer_bundle_ ? 1 : 0;
            const std::array<std::string, 2> words{std::string(say("this ledger's")),
                                                   std::string(say("the bundle's"))};
            if (flow_choice(sight, say("where the two differ, whose word counts"), words, whose)) {
                prefer_bundle_ = whose == 1;
            }
            if (flow_press(sight, say("Take it in"), {}, true)) {
                order(file, false);
                bundles_.forget();
            }
        }
    }
    if (flow_press(sight, say("Undo the last bundle taken in"))) {
        sight.send(bench::command::UndoImport{});
    }
}

void FilesView::copies(const Sight& sight) {
    heading(sight, say("Copies of the ledger"));
    text(sight,
         say("A copy is laid aside after each session and at closing. Putting one back brings "
             "what was tapped since then back too, from its recordings; what it replaces is kept "
             "as a copy."));
    if (flow_press(sight, say("Lay a copy aside now"), {}, true)) {
        sight.send(bench::command::CopyNow{});
        sight.send(bench::command::ListKept{});
    }
    if (flow_press(sight, say("Look again"), {}, false, true)) {
        sight.send(bench::command::ListKept{});
    }
    if (sight.now.copies.empty()) {
        faint_text(sight, say("None yet."));
    }
    int id = 0;
    for (const ledger::LaidCopy& copy : sight.now.copies) {
        const std::string main = copy.made ? base::local_date_time(*copy.made) : copy.name;
        if (row(sight, ++id, main,
                copy_line(copy) + ", " + figure(static_cast<double>(copy.bytes) / 1.0e6, 1) + " MB",
                copy_ == copy.name)) {
            copy_ = copy_ == copy.name ? std::string() : copy.name;
        }
        if (copy_ != copy.name) {
            continue;
        }
        ImGui::PushID(id);
        if (flow_press(sight, say("Put this copy back"), {}, true)) {
            sight.send(bench::command::Restore{copy.name});
            copy_.clear();
        }
        ImGui::PopID();
    }
}

void FilesView::bin(const Sight& sight) {
    heading(sight, say("Bin"));
    text(sight, say("Nothing in the bin is gone: it is left out of lists and charts, with all that "
                    "belongs to it."));
    if (sight.now.binned.empty()) {
        faint_text(sight, say("The bin is empty."));
    }
    for (const ledger::BinnedThing& thing : sight.now.binned) {
        ImGui::PushID(thing.table.c_str());
        if (row(sight, static_cast<int>(thing.id), thing.what,
                say("put away {}; press to put it back", base::local_date_time(thing.binned)),
                false)) {
            sight.send(bench::command::Unbin{thing.table, thing.id});
            sight.send(bench::command::ListKept{});
        }
        ImGui::PopID();
    }
}

} // namespace platewright::screen
