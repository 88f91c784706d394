#pragma once
#include "base/result.hpp"
#include "ledger/bundle/bundle.hpp"
#include "ledger/record.hpp"
#include "taps/tap.hpp"

#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::ledger {

/// What Store::rescue() did.
struct RescueReport {
    int instruments = 0, plates = 0, sessions = 0, woods = 0; ///< found again
    int taps = 0;                                             ///< put back into their sessions
    int corrected = 0;  ///< values that the database had as they were before
    int strangers = 0;  ///< recordings that don't say enough of a session that this database lacks
    int unreadable = 0; ///< damaged, or of another program
    int facts_unreadable = 0; ///< files of facts that are damaged
};

/// What Store::undo_import() did.
struct UndoneImport {
    std::string file;                          ///< the bundle's name
    base::Timestamp taken_in;                  ///< when
    int binned = 0, removed = 0, put_back = 0; ///< things
    int changed_since = 0;                     ///< words that were left as they are now
};

enum class Access { read_write, read_only };

/// The ledger on disk: one folder with `ledger.sqlite`, `recordings/`, `backups/`.
/// What a call that adds or changes something returns from is durable: written and synced.
/// Fails: base::Failure (disk full, folder vanished, ledger of a newer version, not a ledger); what
/// was acknowledged before stays. Threads: one owner at a time; not RT.
class Store {
public:
    /// Opens the ledger in `folder`, making it when the folder is empty or not there. When another
    /// program holds it, opens read-only (read_only() tells); migrates an older one after a backup.
    explicit Store(const std::filesystem::path& folder, Access access = Access::read_write);
    ~Store();
    Store(Store&&) noexcept;
    Store& operator=(Store&&) noexcept;

    /// Where it could not be written to at first it is looked at again, at most once a second: a
    /// disk that came back, a program that was closed.
    bool read_only() const;
    /// Why it can only be read, as a clause ("another program has it open"); empty otherwise.
    const std::string& why_read_only() const;
    const std::filesystem::path& folder() const;
    /// Sentences on what became of the ledger that its maker should know (files exchanged by
    /// another program and what was done about it), each given once.
    std::vector<std::string> take_notices();

    Id add(const InstrumentRecord& instrument);
    Id add(const PlateRecord& plate);
    Id add(const SessionRecord& session);
    void update(const InstrumentRecord& instrument);
    void update(const PlateRecord& plate);
    void update(const SessionRecord& session);

    /// Keeps a tap: recording as FLAC (24 bit, with pre-roll) under its content hash, then the row.
    /// Rate, onset, peak and noise are the tap's own; the rest is the record's. A tap without
    /// samples is kept without a recording; where a hammer told its force, that is in it too.
    Id add(const TapRecord& record, const taps::Tap& tap, const HammerForce& force = {});
    /// The content hash of a tap's recording; empty where none is kept.
    std::string recording_of(Id tap) const;
    /// The maker's word on a tap, in place of the verdict it was given.
    void set_verdict(Id tap, taps::Verdict verdict);
    /// What the same analysis finds in a kept tap in another band, in place of what it found
    /// before.
    void replace_reading(Id tap, std::string_view analysis_version,
                         const std::vector<modes::Partial>& partials);
    /// Adds what a newer analysis found in a kept tap; what earlier ones found stays beside it.
    /// Throws std::invalid_argument when this version's reading is kept already.
    void add_reading(Id tap, std::string_view analysis_version,
                     const std::vector<modes::Partial>& partials);
    bool has_reading(Id tap, std::string_view analysis_version) const;
    /// The kept recording of a tap, pre-roll and all, with its record's onset, spot and verdict.
    /// `force`, where it is asked for, gets the hammer's, or none.
    taps::Tap load(const TapRecord& record, HammerForce* force = nullptr) const;

    /// The session's modes as of this analysis, in place of those of the same version; names that
    /// the maker gave stay with name_mode, not here.
    void set_modes(Id session, const std::vector<ModeRecord>& modes);
    /// The maker's own word on a mode; nothing takes it back. Kept by session and frequency, so
    /// that it survives re-analysis.
    void name_mode(Id session, double frequency_hz, std::optional<int> number);

    /// The plate's shape, in place of what was said before (which stays in the database).
    void set_form(Id plate, const FormRecord& form);
    /// All caliper readings of a session, in place of the earlier ones (which stay in the
    /// database). They are kept as they come: plate::fault_in tells whether they can be.
    Id set_thickness(Id session, const std::vector<plate::ThicknessReading>& readings);
    Id add(const PinRecord& pin);
    Id add(const FlexRecord& flex);
    Id add(const WeighingRecord& weighing);
    Id add(const PlanRecord& plan);

    /// Wood in stock. A test is kept whole with its modes; a mode added later (typed, or by a newer
    /// analysis) counts in place of the same motion's earlier one, which stays in the database.
    Id add(const WoodRecord& wood);
    void update(const WoodRecord& wood);
    Id add(const WoodTestRecord& test, std::span<const WoodModeRecord> modes);
    void add_wood_modes(Id test, std::span<const WoodModeRecord> modes);
    /// As add(TapRecord, Tap) keeps a session's; the record's session and partials are not looked
    /// at.
    Id add_wood_tap(Id test, const TapRecord& record, const taps::Tap& tap);
    /// All wood by its label.
    std::vector<WoodHistory> wood_stock() const;
    /// What a plate was carved from; nothing: takes an earlier word back.
    void set_carved(Id plate, std::optional<Id> wood);
    /// What a mode of a plate is to come to; nothing: no target any more.
    void set_target(Id plate, int number, std::optional<double> frequency_hz);

    /// What was entered in the wrong place, put right: each is one change. A Fault says in a
    /// sentence what can't be, and then nothing was changed.
    std::optional<base::Fault> move_session(Id session, Id plate);
    std::optional<base::Fault> move_plate(Id plate, Id instrument);
    std::optional<base::Fault> set_begun(Id session, base::Timestamp begun);
    std::optional<base::Fault> set_spot(Id tap, taps::Spot spot);
    /// The session's map without these readings, counted from 0; without all of them, no map. What
    /// was there before stays in the database.
    std::optional<base::Fault> take_out_readings(Id session, std::span<const std::size_t> which);
    /// Takes out what the bundle taken in last brought: rows go into the bin where there is one for
    /// their kind, and away where not; words it replaced stand again unless they were changed
    /// since. The one before it is then the last. Fault: there is none.
    base::Result<UndoneImport> undo_import();

    Id add_reference(Id session, std::string_view label);
    void remove_reference(Id reference);
    std::vector<ReferenceRecord> references() const;

    /// Into the bin, and out of it again. `table` of: instrument, plate, session, tap, reference,
    /// pin, flex, weighing, wood, wood_test.
    /// What lies in the bin, and all that belongs to it, is left out of every list and history.
    void bin(std::string_view table, Id id);
    void unbin(std::string_view table, Id id);

    /// All that was put into the bin itself, the latest first.
    std::vector<BinnedThing> in_the_bin() const;

    std::vector<InstrumentSummary> overview() const;
    std::optional<PlateHistory> history(Id plate) const;
    /// The plate a session belongs to.
    std::optional<Id> plate_of_session(Id session) const;
    /// All that is kept of it; nothing where no session has this number.
    std::optional<PlateHistory> history_with(Id session) const;
    /// The session a tap of a plate belongs to.
    std::optional<Id> session_of_tap(Id tap) const;
    /// Plates whose label, or instrument's label, is this (case-insensitive); "12" is also the
    /// id 12.
    std::vector<PlateRecord> find_plates(std::string_view label) const;

    /// Puts back what the database lacks of what lies beside it: after an older copy, or an empty
    /// database, was put in its place. First what the files of facts (witness.hpp) say of
    /// instruments, sessions and woods; where the database has it otherwise, they are right, for
    /// they were written after it. Then the taps of recordings that no tap names, with their
    /// sessions. All come without readings and modes; an analysis of the recordings gives those
    /// (bench::read_lacking). Cost: reads all facts, and the recordings that no tap names.
    RescueReport rescue();

    /// Writes a bundle (ledger/bundle/bundle.hpp): nothing is under `file` until all of it is
    /// there. Cost: reads the recordings twice. Fails: base::Failure.
    BundleReport write_bundle(const std::filesystem::path& file, const BundleRequest& request,
                              const Progress& progress = {}) const;
    /// Takes a bundle in: what is here already is recognised and stays, the rest is added, in one
    /// transaction. Fault: no bundle, damaged, of a newer version, or made to harm; nothing of it
    /// is then in the ledger. Cost: some 20 µs a row, two disk flushes a new recording.
    base::Result<TakeReport> take_bundle(const std::filesystem::path& file,
                                         const TakeOptions& options = {},
                                         const Progress& progress = {});

    std::optional<std::string> setting(std::string_view key) const;
    void set_setting(std::string_view key, std::string_view value);

    struct Impl;

private:
    std::unique_ptr<Impl> impl_;
};

/// Where a maker's ledger lies unless told otherwise: $PLATEWRIGHT_LEDGER, else
/// $XDG_DATA_HOME/platewright, else ~/.local/share/platewright.
std::filesystem::path default_folder();

} // namespace platewright::ledger
