#pragma once
#include "desk/echo.hpp"
#include "desk/look_up.hpp"
#include "desk/season_view.hpp"
#include "office/apart.hpp"
#include "office/form_reader.hpp"
#include "office/gate.hpp"

#include <deque>
#include <map>
#include <memory>
#include <optional>
#include <string>

namespace tarewell::office {

/// The ledger of one office page: the file that is written to, and its season, which follows the journal: what was
/// recorded since, whoever did it, is added to it, and it is read anew only for a correction, a void or an erasure.
class kept_ledger {
  public:
    explicit kept_ledger(const std::string& path) : file_{ledger::ledger_file::open(path)} {}
    [[nodiscard]] ledger::ledger_file& file() { return file_; }
    [[nodiscard]] const std::string& path() const { return file_.path(); }
    /// Another handle on the same file, for questions that keep one.
    [[nodiscard]] ledger::ledger_file opened() const { return ledger::ledger_file::open(file_.path()); }
    [[nodiscard]] const desk::season_view& season();
    [[nodiscard]] desk::look_up::season_at_hand at_hand() {
        return [this]() -> const records::season& { return season().season; };
    }
    /// Every flag of it.
    [[nodiscard]] const std::vector<reconcile::flag>& flags();
    /// A quarter's report, read again when the journal's head has moved.
    [[nodiscard]] const desk::quarter_seen& quarter(const std::string& name);
    /// What entries raise that the file holds and that are not committed yet. The season that is made for it is the one
    /// that is shown once they are.
    [[nodiscard]] desk::echo echo_of(records::kind which, const std::vector<records::entry_no>& entries);

  private:
    struct reckoned_season {
        ledger::journal_head head;
        records::season season;
        reconcile::reckoning reckoned;
    };
    /// Of all that the file shows to this process.
    [[nodiscard]] reckoned_season read_ahead() const;
    [[nodiscard]] bool goes_on_from(const ledger::journal_head& before, const ledger::journal_head& now) const;
    void show(reckoned_season&& read);

    ledger::ledger_file file_;
    std::optional<desk::season_view> season_;
    std::optional<reckoned_season> ahead_;              ///< with entries that may be committed by now
    std::optional<std::vector<reconcile::flag>> flags_; ///< of `season_`
    std::map<std::string, desk::quarter_seen> quarters_;
};

/// What was said of an entry, for the page that comes after it.
struct said {
    desk::echo echo;
    std::string heading, kind, key, second_key;
};

/// A file that was sent in and looked at, and waits for the word to be taken in.
struct waiting_file {
    std::string kind, name, bytes;
};

/// Keeps the last few of something under names that nobody guesses and everybody may lose.
template <class T> class last_few {
  public:
    explicit last_few(std::size_t most) : most_{most} {}
    void keep(std::string name, T what) {
        kept_.emplace_back(std::move(name), std::move(what));
        if (kept_.size() > most_) kept_.pop_front();
    }
    [[nodiscard]] const T* find(std::string_view name) const {
        for (const auto& [known, what] : kept_)
            if (known == name) return &what;
        return nullptr;
    }

  private:
    std::size_t most_;
    std::deque<std::pair<std::string, T>> kept_;
};

/// All that an office page is between two requests.
struct state {
    state(const std::string& ledger_path, ledger::surroundings with, gate at_the_door)
        : kept{ledger_path}, around{std::move(with)}, door{std::move(at_the_door)} {}

    kept_ledger kept;
    ledger::surroundings around; ///< `who` is empty until a person says it
    std::string who_suggested;   ///< on the page that asks
    gate door;
    std::map<std::string, std::map<std::string, std::string>> last_values; ///< of each kind, as recorded here last
    last_few<said> told{32};
    last_few<waiting_file> waiting{4};
    last_few<std::vector<std::map<std::string, std::string>>> sheets{8}; ///< rows of printed sheets that are typed in
    office::apart apart;
};

/// A request that was let in, with what it asks and sends.
struct call {
    const request& asked;
    form query; ///< behind the question mark
    form sent;  ///< of a POST
};

/// Answers a request; nothing but the ledger is read or written, and nothing is thrown that a person can be told.
response answer(state& of, const request& asked);

/// How many bytes a request may bring, told by its head alone: none to a stranger.
std::size_t longest_body(const state& of, const request& head);

} // namespace tarewell::office
