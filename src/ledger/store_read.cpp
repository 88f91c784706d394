// The half of Store that reads.
#include "base/failure.hpp"
#include "base/text.hpp"
#include "ledger/files/recording_file.hpp"
#include "ledger/files/tap_label.hpp"
#include "ledger/store_impl.hpp"
#include "ledger/tables/rows.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <span>
#include <stdexcept>
#include <utility>

namespace platewright::ledger {
namespace {

using wording::say;

/// What the maker once said of a mode: the one nearest this frequency bears this number, or none.
struct MakersWord {
    double frequency_hz = 0;
    std::optional<int> number;
};

/// How far, as a share of frequency, a mode may have moved by re-analysis or more taps and still be
/// the one the maker meant. Neighbouring modes of a plate lie farther apart.
constexpr double k_same_mode = 0.02;

/// Lays the maker's words, oldest first, over the names that were found. The last word on a mode
/// holds; a number the maker gave to one mode is borne by no other. Words on modes that are not
/// there are passed over.
void apply_makers_words(std::vector<ModeRecord>& modes, std::span<const MakersWord> words) {
    for (const MakersWord& word : words) {
        const auto distance = [&](const ModeRecord& mode) {
            return std::abs(mode.mode.frequency_hz - word.frequency_hz);
        };
        const auto meant = std::ranges::min_element(modes, {}, distance);
        if (meant == modes.end() || distance(*meant) > k_same_mode * word.frequency_hz)
            continue;
        meant->name.reset();
        if (!word.number)
            continue;
        for (ModeRecord& other : modes)
            if (other.name && other.name->number == *word.number)
                other.name.reset();
        meant->name = modes::ModeName{*word.number, 1.0, true};
    }
}

void read_sessions(Database& database, PlateHistory& history) {
    for (SessionRecord& record : read_list<SessionRecord>(
             database, "WHERE t.plate = ? AND t.binned_ms IS NULL ORDER BY t.begun_ms, t.id",
             history.plate.id))
        history.sessions.emplace_back().session = std::move(record);
}

// Taps with the partials of each one's newest reading.
void read_taps(Database& database, SessionHistory& session) {
    Statement taps{database,
                   "SELECT " + columns_of<TapRecord>("t") +
                       ", r.id, r.analysis_version FROM tap t LEFT JOIN reading r ON r.id = "
                       "(SELECT id FROM reading WHERE tap = t.id ORDER BY made_ms DESC, id DESC "
                       "LIMIT 1) "
                       "WHERE t.session = ? AND t.binned_ms IS NULL ORDER BY t.at_ms, t.id"};
    Statement partials{database,
                       select_all<modes::Partial>() + "WHERE t.reading = ? ORDER BY t.place"};
    taps.bind_all(session.session.id);
    while (taps.step()) {
        auto tap = usable([&] { return read_row<TapRecord>(taps); });
        if (!tap)
            continue;
        const std::optional<std::int64_t> reading = taps.maybe_integer();
        tap->analysis_version = taps.text();
        if (reading) {
            partials.bind_all(*reading);
            tap->partials = read_rows<modes::Partial>(partials);
        }
        session.taps.push_back(*std::move(tap));
    }
}

std::vector<MakersWord> read_words(Database& database, Id session) {
    Statement rows{database,
                   "SELECT frequency_hz, number FROM naming WHERE session = ? "
                   "ORDER BY said_ms, id",
                   session};
    std::vector<MakersWord> words;
    while (rows.step()) {
        MakersWord word;
        word.frequency_hz = rows.real();
        if (const auto number = rows.maybe_integer())
            word.number = static_cast<int>(*number);
        words.push_back(word);
    }
    return words;
}

/// A mode, its number and how sure that is.
ModeRecord read_mode(Statement& row) {
    ModeRecord record;
    record.id = row.integer();
    record.session = row.integer();
    record.analysis_version = row.text();
    record.mode = read_row<modes::Mode>(row);
    const std::optional<std::int64_t> number = row.maybe_integer();
    const std::optional<double> confidence = row.maybe_real();
    if (number)
        record.name = modes::ModeName{static_cast<int>(*number), confidence.value_or(0.0), false};
    return record;
}

// The newest set of modes, the maker's own names laid over the found ones.
void read_modes(Database& database, SessionHistory& session) {
    Statement rows{database, "SELECT m.id, e.session, e.analysis_version, " +
                                 columns_of<modes::Mode>("m") +
                                 ", m.number, m.confidence FROM mode m JOIN mode_set e ON e.id = "
                                 "m.mode_set WHERE e.id = (SELECT id FROM mode_set WHERE session = "
                                 "? ORDER BY made_ms DESC, id DESC LIMIT 1) "
                                 "ORDER BY m.frequency_hz, m.id"};
    Statement spots{database, select_all<modes::SpotLevel>() + "WHERE t.mode = ? ORDER BY t.spot"};
    rows.bind_all(session.session.id);
    while (rows.step()) {
        ModeRecord mode = read_mode(rows);
        spots.bind_all(mode.id);
        mode.mode.spots = read_rows<modes::SpotLevel>(spots);
        session.modes.push_back(std::move(mode));
    }
    apply_makers_words(session.modes, read_words(database, session.session.id));
}

} // namespace

taps::Tap Store::load(const TapRecord& record, HammerForce* force) const {
    if (record.recording.empty())
        throw std::invalid_argument{"this tap was kept without its recording"};
    const std::vector<std::byte> bytes = read_whole(impl_->recording_file(record.recording));
    if (sha256_hex(bytes) != record.recording)
        throw base::Failure{
            "A kept recording has been damaged on the disk and was not used. Take it "
            "from a backup of the ledger's folder; its figures are still kept.",
            record.recording};
    Sound sound = decode_recording(bytes);
    // The recording is believed: its own words say where the strike begins, and its head the rate.
    // The row's rate may be finer than FLAC can name, and is taken where it is that one rounded.
    const std::optional<TapLabel> label = label_from_text(sound.description);
    const std::int64_t onset = label ? label->onset_index : record.onset_index;
    if (onset < 0 || onset >= std::ssize(sound.samples))
        throw base::Failure{
            say("A kept tap says that it begins outside its recording, so it was not used; its "
                "figures are still kept. platewright check lists such taps."),
            record.recording};
    taps::Tap tap;
    const double rate = sound.sample_rate_hz;
    tap.sample_rate_hz =
        std::abs(record.sample_rate_hz - rate) <= 0.5 ? record.sample_rate_hz : rate;
    tap.onset_frame = record.onset_frame;
    tap.onset_index = static_cast<std::size_t>(onset);
    tap.samples = std::move(sound.samples);
    tap.peak_dbfs = record.peak_dbfs;
    tap.noise_dbfs = record.noise_dbfs;
    tap.verdict = record.verdict;
    tap.spot = record.spot;
    if (force != nullptr)
        *force = std::move(sound.force);
    return tap;
}

bool Store::has_reading(Id tap, std::string_view analysis_version) const {
    return impl_->database
        ->first_integer("SELECT 1 FROM reading WHERE tap = ? AND analysis_version = ?", tap,
                        analysis_version)
        .has_value();
}

std::vector<ReferenceRecord> Store::references() const {
    return read_list<ReferenceRecord>(
        *impl_->database,
        "JOIN session s ON s.id = t.session JOIN plate p ON p.id = s.plate JOIN instrument i ON "
        "i.id = p.instrument WHERE t.binned_ms IS NULL AND s.binned_ms IS NULL AND p.binned_ms IS "
        "NULL AND i.binned_ms IS NULL ORDER BY t.id");
}

std::vector<InstrumentSummary> Store::overview() const {
    impl_->come_back();
    Database& database = *impl_->database;
    const Transaction one_moment{database, Transaction::Kind::read};
    std::vector<InstrumentSummary> instruments;
    std::map<Id, std::size_t> places;
    for (InstrumentRecord& instrument : read_list<InstrumentRecord>(
             database, "WHERE t.binned_ms IS NULL ORDER BY t.created_ms, t.id")) {
        places[instrument.id] = instruments.size();
        instruments.emplace_back().instrument = std::move(instrument);
    }
    Statement plates{
        database,
        "SELECT " + columns_of<PlateRecord>("p") +
            ", (SELECT count(*) FROM session n WHERE n.plate = p.id AND n.binned_ms IS NULL), "
            "coalesce((SELECT group_concat(n.notes, char(10)) FROM session n WHERE n.plate = p.id "
            "AND n.binned_ms IS NULL AND n.notes <> ''), ''), s.id IS NOT NULL, " +
            columns_of<SessionRecord>("s") +
            " FROM plate p LEFT JOIN session s ON s.id = (SELECT id FROM session WHERE plate = "
            "p.id AND binned_ms IS NULL ORDER BY begun_ms DESC, id DESC LIMIT 1) WHERE p.binned_ms "
            "IS NULL ORDER BY p.created_ms, p.id"};
    while (plates.step()) {
        auto plate = usable([&] { return read_row<PlateRecord>(plates); });
        if (!plate)
            continue;
        PlateSummary summary;
        summary.plate = *std::move(plate);
        summary.sessions = static_cast<int>(plates.integer());
        summary.session_notes = plates.text();
        if (plates.truth())
            summary.newest = usable([&] { return read_row<SessionRecord>(plates); });
        if (const auto place = places.find(summary.plate.instrument); place != places.end())
            instruments[place->second].plates.push_back(std::move(summary));
    }
    return instruments;
}

std::optional<PlateHistory> Store::history(Id plate) const {
    impl_->come_back();
    const Transaction one_moment{*impl_->database, Transaction::Kind::read};
    return impl_->history(plate);
}

std::optional<PlateHistory> Store::Impl::history(Id plate) const {
    Statement row{*database,
                  ("SELECT " + columns_of<InstrumentRecord>("i") + ", " +
                   columns_of<PlateRecord>("p") +
                   " FROM plate p JOIN instrument i ON i.id = p.instrument "
                   "WHERE p.id = ? AND p.binned_ms IS NULL AND i.binned_ms IS NULL"),
                  plate};
    if (!row.step())
        return std::nullopt;
    PlateHistory found;
    found.instrument = read_row<InstrumentRecord>(row);
    auto record = usable([&] { return read_row<PlateRecord>(row); });
    if (!record)
        return std::nullopt;
    found.plate = *std::move(record);
    found.form = read_form(*database, plate);
    found.wood = read_carved_from(*database, plate);
    found.targets = read_targets(*database, plate);
    read_sessions(*database, found);
    for (SessionHistory& session : found.sessions) {
        read_taps(*database, session);
        read_modes(*database, session);
        read_shape(*database, session);
    }
    return found;
}

std::optional<Id> Store::plate_of_session(Id session) const {
    return impl_->database->first_integer("SELECT plate FROM session WHERE id = ?", session);
}

std::optional<PlateHistory> Store::history_with(Id session) const {
    const auto plate = plate_of_session(session);
    return plate ? history(*plate) : std::nullopt;
}

std::optional<Id> Store::session_of_tap(Id tap) const {
    return impl_->database->first_integer("SELECT session FROM tap WHERE id = ?", tap);
}

std::vector<PlateRecord> Store::find_plates(std::string_view label) const {
    return read_list<PlateRecord>(*impl_->database,
                                  "JOIN instrument i ON i.id = t.instrument WHERE t.binned_ms IS "
                                  "NULL AND i.binned_ms IS NULL AND (t.id = ?1 OR t.label = ?2 "
                                  "COLLATE NOCASE OR i.label = ?2 COLLATE NOCASE) ORDER BY t.id",
                                  base::parse_whole(label), label);
}

std::optional<std::string> Store::setting(std::string_view key) const {
    return ledger::setting(*impl_->database, key);
}

} // namespace platewright::ledger
