#pragma once
// Only for the sources of this room.
#include "ledger/engine.hpp"

#include <condition_variable>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace tarewell::ledger {

/// Writes batches in their order on a thread of its own while the next ones are made. Between `write` and `settle` the
/// connection is the thread's alone.
class writing_thread {
  public:
    /// Throws std::system_error where the system gives no thread.
    explicit writing_thread(entry_inserts& to);
    /// What isn't written yet stays so.
    ~writing_thread();
    writing_thread(const writing_thread&) = delete;
    writing_thread& operator=(const writing_thread&) = delete;

    /// Waits while too much is waiting already. Returns an empty batch. Throws what went wrong with an earlier one.
    std::unique_ptr<entry_batch> write(std::unique_ptr<entry_batch> batch);
    /// Waits until all is written. Throws what went wrong with one of them; nothing is written after it.
    void settle();

  private:
    void run();

    entry_inserts& to_;
    std::mutex guard_;
    std::condition_variable changed_;
    std::vector<std::unique_ptr<entry_batch>> waiting_, written_; ///< with room from the start: the thread gets none
    bool at_work_ = false, ends_ = false;
    std::exception_ptr failure_;
    std::thread thread_; ///< last: it uses the others
};

} // namespace tarewell::ledger
