#include "base/failure.hpp"
#include "ledger/tables/database.hpp"
#include "support/catch.hpp"
#include "support/temporary_folder.hpp"

#include <filesystem>
#include <fstream>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

namespace {

struct Scratch {
    TemporaryFolder folder;
    Database database{folder.path() / "scratch.sqlite", Database::Access::read_write};

    Scratch() { database.run("CREATE TABLE thing (id INTEGER PRIMARY KEY, size REAL, name TEXT)"); }

    std::int64_t count() {
        Statement rows{database, "SELECT count(*) FROM thing"};
        rows.step();
        return rows.integer();
    }
};

} // namespace

TEST_CASE("what a transaction did is there after commit, and gone without") {
    Scratch scratch;
    {
        Transaction kept{scratch.database};
        scratch.database.execute("INSERT INTO thing (name) VALUES (?)", "kept");
        kept.commit();
    }
    CHECK(scratch.count() == 1);
    {
        const Transaction dropped{scratch.database};
        scratch.database.execute("INSERT INTO thing (name) VALUES (?)", "dropped");
        CHECK(scratch.count() == 2);
    }
    CHECK(scratch.count() == 1);
}

TEST_CASE("an exception in the middle of a transaction undoes all of it") {
    Scratch scratch;
    try {
        Transaction transaction{scratch.database};
        scratch.database.execute("INSERT INTO thing (id) VALUES (1)");
        scratch.database.execute("INSERT INTO thing (id) VALUES (1)");
        transaction.commit();
        FAIL("the second row must be refused");
    } catch (const std::invalid_argument&) {
        CHECK(scratch.count() == 0);
    }
    Transaction again{scratch.database};
    again.commit();
}

TEST_CASE("a transaction commits once, and none begins within another") {
    Scratch scratch;
    Transaction transaction{scratch.database};
    CHECK_THROWS_AS(Transaction{scratch.database}, base::Failure);
    transaction.commit();
    CHECK_THROWS_AS(transaction.commit(), std::invalid_argument);
}

TEST_CASE(
    "a write transaction that another program's keeps out says so, and waits no longer than told") {
    Scratch scratch;
    Database other{scratch.folder.path() / "scratch.sqlite", Database::Access::read_write};
    other.run("PRAGMA busy_timeout = 10");
    const Transaction holder{scratch.database};
    try {
        const Transaction kept_out{other};
        FAIL("two writers at once");
    } catch (const base::Failure& failure) {
        CHECK(std::string{failure.what()}.find("Another program") != std::string::npos);
        CHECK_FALSE(failure.detail().empty());
    }
}

TEST_CASE("a read transaction sees one moment, whatever is written meanwhile") {
    Scratch scratch;
    scratch.database.run("PRAGMA journal_mode = WAL");
    Database reader{scratch.folder.path() / "scratch.sqlite", Database::Access::read_only};
    const auto count = [&] {
        Statement rows{reader, "SELECT count(*) FROM thing"};
        rows.step();
        return rows.integer();
    };
    {
        const Transaction moment{reader, Transaction::Kind::read};
        CHECK(count() == 0);
        scratch.database.execute("INSERT INTO thing (name) VALUES ('new')");
        CHECK(count() == 0);
    }
    CHECK(count() == 1);
    CHECK_THROWS_AS(reader.run("DELETE FROM thing"), base::Failure);
}

TEST_CASE("every kind of value comes back as it went in, none at all included") {
    Scratch scratch;
    const std::string text = "a'b\"c; DROP TABLE thing; \xc3\xa9";
    const auto id = scratch.database.execute("INSERT INTO thing (size, name) VALUES (?, ?)",
                                             std::optional<double>{}, text);
    scratch.database.execute("INSERT INTO thing (id, size, name) VALUES (?, ?, ?)", id + 1, 0.1,
                             "");
    Statement rows{scratch.database, "SELECT id, size, name, size FROM thing ORDER BY id"};
    REQUIRE(rows.step());
    CHECK(rows.integer() == id);
    CHECK_FALSE(rows.maybe_real());
    CHECK(rows.text() == text);
    CHECK_FALSE(rows.maybe_integer());
    REQUIRE(rows.step());
    CHECK(rows.maybe_integer() == id + 1);
    CHECK(rows.maybe_real() == 0.1);
    CHECK(rows.text().empty());
    CHECK_FALSE(rows.step());
    CHECK_THROWS_AS(scratch.database.execute("INSERT INTO thing (size) VALUES (?)", std::nan("")),
                    std::invalid_argument);
}

TEST_CASE("a statement can be bound and run again") {
    Scratch scratch;
    Statement insert{scratch.database, "INSERT INTO thing (name) VALUES (?)"};
    for (const char* name : {"one", "two", "three"}) {
        insert.bind_all(name);
        CHECK_FALSE(insert.step());
    }
    CHECK(scratch.count() == 3);
    CHECK(scratch.database.changes() == 1);
}

TEST_CASE("what a table refuses is no failure of its file") {
    Scratch scratch;
    scratch.database.execute("INSERT INTO thing (id) VALUES (1)");
    CHECK_THROWS(scratch.database.execute("INSERT INTO thing (id) VALUES (1)"));
    CHECK_FALSE(scratch.database.has_failed());
    CHECK(scratch.count() == 1);
}

TEST_CASE("a journal is folded in whole, or it is said that a reader holds it up") {
    Scratch scratch;
    scratch.database.run("PRAGMA journal_mode = WAL; PRAGMA busy_timeout = 1");
    scratch.database.execute("INSERT INTO thing (name) VALUES ('new')");
    const auto journal = scratch.folder.path() / "scratch.sqlite-wal";
    REQUIRE(std::filesystem::file_size(journal) > 0);
    {
        Database reader{scratch.folder.path() / "scratch.sqlite", Database::Access::read_only};
        const Transaction moment{reader, Transaction::Kind::read};
        Statement rows{reader, "SELECT count(*) FROM thing"};
        REQUIRE(rows.step());
        CHECK_FALSE(scratch.database.checkpoint());
    }
    CHECK(scratch.database.checkpoint());
    CHECK(std::filesystem::file_size(journal) == 0);
}

TEST_CASE("a copy of the database is whole and stands by itself") {
    Scratch scratch;
    scratch.database.run("PRAGMA journal_mode = WAL");
    scratch.database.execute("INSERT INTO thing (name) VALUES ('copied')");
    scratch.database.copy_to(scratch.folder.path() / "copy.sqlite");
    scratch.database.execute("DELETE FROM thing");
    Database copy{scratch.folder.path() / "copy.sqlite", Database::Access::read_only};
    Statement rows{copy, "SELECT name FROM thing"};
    REQUIRE(rows.step());
    CHECK(rows.text() == "copied");
}

TEST_CASE("a database at rest can be read where nothing can be written, whatever its name") {
    const TemporaryFolder folder;
    const auto file = folder.path() / "odd name #1? 100%.sqlite";
    {
        Database database{file, Database::Access::read_write};
        database.run("CREATE TABLE t (x); INSERT INTO t VALUES (7)");
    }
    Database database{file, Database::Access::immutable};
    Statement rows{database, "SELECT x FROM t"};
    REQUIRE(rows.step());
    CHECK(rows.integer() == 7);
}

TEST_CASE("no file, no folder and no database each give their own sentence") {
    const TemporaryFolder folder;
    CHECK_THROWS_AS(Database(folder.path() / "none.sqlite", Database::Access::read_only),
                    base::Failure);
    CHECK_THROWS_AS(Database(folder.path() / "no" / "folder.sqlite", Database::Access::read_write),
                    base::Failure);
    std::ofstream{folder.path() / "text.sqlite"} << std::string(2000, 'q');
    Database text{folder.path() / "text.sqlite", Database::Access::read_write};
    try {
        text.run("SELECT * FROM sqlite_schema");
        FAIL("text is no database");
    } catch (const base::Failure& failure) {
        CHECK(std::string{failure.what()}.find("damaged") != std::string::npos);
    }
}
