#include "screen/files/files_view.hpp"

#include "base/text.hpp"
#include "ledger/limits.hpp"
#include "screen/draw/parts.hpp"
#include "screen/fields/drafts.hpp"
#include "screen/fields/fields.hpp"

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
        return say("laid aside before a change");
    case ledger::LaidCopy::Kind::replaced:
        return say("what a copy replaced");
    }
    return say("laid aside as you worked");
}

} // namespace

void FilesView::draw(const ViewContext& context, Box area) {
    keep_listed(context);
    const double scale = context.look.scale;
    {
        const Page page(context, "kinds", next_column(context, area, 380.0 * scale));
        choices(context);
        errand(context);
    }
    const Page page(context, "sheet", next_column(context, area, area.width()));
    switch (sheet_) {
    case Sheet::paper:
        paper(context);
        break;
    case Sheet::recordings:
        recordings(context);
        break;
    case Sheet::bundles:
        bundles(context);
        break;
    case Sheet::copies:
        copies(context);
        break;
    case Sheet::bin:
        bin(context);
        break;
    }
}

/// Copies and the bin are listed anew when the ledger has changed.
void FilesView::keep_listed(const ViewContext& context) {
    const std::pair<const void*, const void*> now{context.now.instruments.get(),
                                                  context.now.plate.get()};
    if (listed_ != now) {
        listed_ = now;
        context.send(bench::command::ListKept{});
    }
}

void FilesView::choices(const ViewContext& context) {
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
        if (row(context, ++id, say(choice.main), say(choice.second), sheet_ == choice.sheet)) {
            sheet_ = choice.sheet;
            complaint_.clear();
            copy_.clear();
        }
    }
    if (!context.now.undoable.empty() &&
        flow_press(context, say("Undo: {}", context.now.undoable), say("Ctrl Z"))) {
        context.send(bench::command::UndoLast{});
    }
}

/// What is being done, or what came of it.
void FilesView::errand(const ViewContext& context) {
    const auto& errand = context.now.errand;
    if (!told_.empty()) {
        text(context, told_);
    }
    if (!errand) {
        return;
    }
    heading(context, errand->doing);
    if (!errand->done) {
        if (errand->share > 0.0) {
            faint_text(context, say("{} % done", figure(100.0 * errand->share, 0)));
        }
        if (flow_press(context, say("Stop"))) {
            context.send(bench::command::StopWork{});
        }
        return;
    }
    const bench::ErrandOutcome& outcome = errand->outcome;
    if (outcome.good) {
        text(context, outcome.sentence);
    } else {
        complaint(context, outcome.sentence);
    }
    if (outcome.good && !outcome.file.empty() && context.outside.show_file &&
        flow_press(context, say("Show it"), {}, true)) {
        told_ = context.outside.show_file(outcome.file);
    }
    for (const std::string& one : outcome.lines) {
        faint_text(context, one);
    }
}

std::filesystem::path FilesView::folder(const ViewContext& context) const {
    return !context.preferences.paper_folder.empty()
               ? std::filesystem::path(context.preferences.paper_folder)
           : context.outside.folder ? context.outside.folder()
                                    : std::filesystem::path();
}

void FilesView::folder_fields(const ViewContext& context) {
    if (folder_typed_.empty()) {
        folder_typed_ = folder(context).string();
    }
    field(context, say("folder for what is written"), folder_typed_, 620);
    if (ImGui::IsItemDeactivatedAfterEdit()) {
        context.preferences.paper_folder = std::string(base::trimmed(folder_typed_));
        folder_typed_.clear();
    }
}

void FilesView::paper(const ViewContext& context) {
    heading(context, say("Paper"));
    const auto order = [&](What what, ledger::Id id) {
        told_.clear();
        const ledger::Id reference =
            what != What::wood && context.now.plate && context.now.plate->reference
                ? context.now.plate->reference->session
                : 0;
        context.send(
            bench::command::RunErrand{context.outside.print({.what = what,
                                                             .id = id,
                                                             .reference = reference,
                                                             .figures = figures_,
                                                             .letter = context.preferences.letter,
                                                             .folder = folder(context)})});
    };
    if (!context.outside.print) {
        faint_text(context, say("This window can't write files."));
        return;
    }
    if (context.now.plate) {
        const ledger::PlateHistory& history = context.now.plate->history;
        text(context, plate_name(history.instrument, history.plate));
        if (flow_press(context, say("Write this plate's sheet"), "P", true) ||
            context.keys.take(U'p')) {
            order(What::plate, history.plate.id);
        }
        if (flow_press(context, say("Write the instrument's record"), {}, false, true)) {
            order(What::instrument, history.instrument.id);
        }
        if (flow_press(context, say("Write its page for a browser"), {}, false, true)) {
            order(What::page, history.instrument.id);
        }
    } else {
        faint_text(context, say("No plate on the bench"));
    }
    choose<bool>(context, say("its charts too, each in a file of its own"),
                 {{false, say("no")}, {true, say("yes")}}, figures_);
    choose<bool>(context, say("paper"), {{false, "A4"}, {true, say("US letter")}},
                 context.preferences.letter);
    folder_fields(context);
    faint_text(context, say("A sheet is a PDF file: show it, and print it from there."));
    heading(context, say("Wood"));
    if (!context.now.stock && !asked_stock_) {
        asked_stock_ = true;
        context.send(bench::command::StudyStock{});
    }
    if (!context.now.stock || context.now.stock->woods.empty()) {
        faint_text(context, say("No wood in stock yet (F9)."));
        return;
    }
    for (const bench::StockedWood& wood : context.now.stock->woods) {
        const ledger::WoodRecord& record = wood.history.wood;
        ImGui::PushID("wood");
        if (row(context, static_cast<int>(record.id), record.label, say("write its sheet"),
                false)) {
            order(What::wood, record.id);
        }
        ImGui::PopID();
    }
}

void FilesView::recordings(const ViewContext& context) {
    heading(context, say("Take recordings in"));
    if (!context.outside.enter || !context.now.plate) {
        faint_text(context, say("Put the plate that was recorded on the bench first (F4)."));
        return;
    }
    const ledger::PlateHistory& history = context.now.plate->history;
    text(context, say("They become a session of {}. Choose one or more files:",
                      plate_name(history.instrument, history.plate)));
    sounds_.draw(context, "sounds", 240.0);
    std::vector<std::string> stages;
    for (const modes::Stage stage : modes::stages_of(history.plate.part)) {
        stages.emplace_back(modes::to_text(stage));
    }
    stage_ = std::min(stage_, stages.size() - 1);
    drop_down(context, say("stage of the work"), stages, stage_, 260);
    field(context, say("mass, g"), mass_.text, 160, false, &complaint_);
    field(context, say("day, or day and time; empty: the file's own"), date_, 260, false,
          &complaint_);
    if (!sounds_.chosen().empty() &&
        flow_press(context,
                   say_count(std::ssize(sounds_.chosen()), "Take {} file in", "Take {} files in"),
                   {}, true)) {
        enter(context);
    }
    faint_text(context, say("While they are read the bench does not hear. Taps that the plate has "
                            "already are not taken twice."));
}

void FilesView::enter(const ViewContext& context) {
    const ledger::PlateHistory& history = context.now.plate->history;
    const auto grams = mass_.number(say("The mass"), ledger::k_mass);
    const std::string_view typed = base::trimmed(date_);
    const auto begun = typed.empty() ? std::nullopt : base::from_typed(typed);
    complaint_ = !grams ? Complaint{grams.fault().what, say("mass, g")}
                 : !typed.empty() && !begun
                     ? Complaint{say("“{}” is no date: type 2026-03-14, 14.3.2026, or one of these "
                                     "and a time.",
                                     typed),
                                 say("day, or day and time; empty: the file's own")}
                     : Complaint{};
    if (!complaint_.empty()) {
        return;
    }
    told_.clear();
    context.send(bench::command::RunErrand{
        context.outside.enter({.plate = history.plate.id,
                               .files = sounds_.chosen(),
                               .begun = begun,
                               .stage = modes::stages_of(history.plate.part).at(stage_),
                               .mass_g = *grams})});
    sounds_.forget();
    mass_ = {};
    date_.clear();
}

void FilesView::bundles(const ViewContext& context) {
    heading(context, say("A bundle"));
    text(context, say("One file with plates, sessions, taps and their sound, for another computer "
                      "or a colleague."));
    if (!context.outside.take_out || !context.outside.take_in) {
        faint_text(context, say("This window can't write files."));
        return;
    }
    take_out(context);
    take_in(context);
}

void FilesView::take_out(const ViewContext& context) {
    heading(context, say("Out"));
    const auto order = [&](ledger::Id plate, ledger::Id instrument, const std::string& name) {
        told_.clear();
        context.send(bench::command::RunErrand{context.outside.take_out(
            {.plate = plate, .instrument = instrument, .name = name, .folder = folder(context)})});
    };
    if (context.now.plate) {
        const ledger::PlateHistory& history = context.now.plate->history;
        if (flow_press(context, say("This plate"))) {
            order(history.plate.id, 0, plate_name(history.instrument, history.plate));
        }
        if (flow_press(context, say("Its instrument"), {}, false, true)) {
            order(0, history.instrument.id, history.instrument.label);
        }
    }
    if (flow_press(context, say("The whole ledger"), {}, false, context.now.plate != nullptr)) {
        order(0, 0, std::string(say("ledger")) + " " + base::local_date(base::now()));
    }
    folder_fields(context);
}

void FilesView::take_in(const ViewContext& context) {
    heading(context, say("In"));
    bundles_.draw(context, "bundles", 190.0);
    const auto order = [&](const std::filesystem::path& file, bool only_look) {
        told_.clear();
        looked_at_ = only_look ? file : std::filesystem::path();
        context.send(
            bench::command::RunErrand{context.outside.take_in(file, only_look, prefer_bundle_)});
    };
    if (!bundles_.chosen().empty()) {
        const std::filesystem::path& file = bundles_.chosen().front();
        if (flow_press(context, say("Look what is in it"), {}, true)) {
            order(file, true);
        }
        const bool looked = looked_at_ == file && context.now.errand && context.now.errand->done &&
                            context.now.errand->outcome.needs_a_second_word;
        if (looked) {
            choose<bool>(context, say("where the two differ, whose word counts"),
                         {{false, say("this ledger's")}, {true, say("the bundle's")}},
                         prefer_bundle_);
            if (flow_press(context, say("Take it in"), {}, true)) {
                order(file, false);
                bundles_.forget();
            }
        }
    }
    if (flow_press(context, say("Undo the last bundle taken in"))) {
        context.send(bench::command::UndoImport{});
    }
}

void FilesView::copies(const ViewContext& context) {
    heading(context, say("Copies of the ledger"));
    text(context, say("A copy is laid aside after each session and at closing. Putting one back "
                      "brings what was tapped since then back too, from its recordings; what it "
                      "replaces is kept as a copy."));
    if (flow_press(context, say("Lay a copy aside now"), {}, true)) {
        context.send(bench::command::CopyNow{});
        context.send(bench::command::ListKept{});
    }
    if (flow_press(context, say("Look again"), {}, false, true)) {
        context.send(bench::command::ListKept{});
    }
    if (context.now.copies.empty()) {
        faint_text(context, say("None yet."));
    }
    int id = 0;
    for (const ledger::LaidCopy& copy : context.now.copies) {
        const std::string main = copy.made ? base::local_date_time(*copy.made) : copy.name;
        if (row(context, ++id, main,
                copy_line(copy) + ", " + figure(static_cast<double>(copy.bytes) / 1.0e6, 1) + " MB",
                copy_ == copy.name)) {
            copy_ = copy_ == copy.name ? std::string() : copy.name;
        }
        if (copy_ != copy.name) {
            continue;
        }
        ImGui::PushID(id);
        if (flow_press(context, say("Put this copy back"), {}, true)) {
            context.send(bench::command::Restore{copy.name});
            copy_.clear();
        }
        ImGui::PopID();
    }
}

void FilesView::bin(const ViewContext& context) {
    heading(context, say("Bin"));
    text(context, say("Nothing in the bin is gone: it is left out of lists and charts, with all "
                      "that belongs to it."));
    if (context.now.binned.empty()) {
        faint_text(context, say("The bin is empty."));
    }
    for (const ledger::BinnedThing& thing : context.now.binned) {
        ImGui::PushID(thing.table.c_str());
        if (row(context, static_cast<int>(thing.id), thing.what,
                say("put away {}; press to put it back", base::local_date_time(thing.binned)),
                false)) {
            context.send(bench::command::Unbin{thing.table, thing.id});
            context.send(bench::command::ListKept{});
        }
        ImGui::PopID();
    }
}

} // namespace platewright::screen
