#include <gtest/gtest.h>

#include <chrono>

#include "serve/running.h"

namespace stickwright {
namespace {

using nlohmann::json;
using nlohmann::ordered_json;

// A job that finds something each time it is told to.
struct Finder {
  std::atomic<int> wanted = 0;
  std::atomic<bool> enough = false;
  std::string start(Jobs& jobs) {
    return jobs.start("find", [this](JobTell& tell) -> Result<ordered_json> {
      int found = 0;
      while (!enough && !tell.cancelled())
        if (found < wanted)
          tell.item({{"n", ++found}});
        else
          std::this_thread::sleep_for(std::chrono::milliseconds(1));
      return ordered_json{{"found", found}};
    });
  }
};

struct SentEvent {
  std::int64_t id = 0;
  std::string kind;
  json data;
};

// The next event on a stream, past signs of life; id 0 when none comes.
SentEvent next_event(Client& client) {
  while (true) {
    const std::string text = client.read_through("\n\n");
    if (!text.ends_with("\n\n")) return {};
    if (text.starts_with(":") || text.starts_with("retry:")) continue;
    SentEvent out;
    const auto field = [&](const std::string& name) {
      const std::size_t at = text.find(name + ": ") + name.size() + 2;
      return text.substr(at, text.find('\n', at) - at);
    };
    out.id = std::stoll(field("id"));
    out.kind = field("event");
    out.data = json::parse(field("data"));
    return out;
  }
}

HttpReply open_stream(Client& client, const std::string& job, const std::string& more = "") {
  return client.get("/api/jobs/" + job + "/events", "Accept: text/event-stream\r\n" + more);
}

TEST(Streams, EventsComeAsTheyHappenAndTheStreamEndsWithTheJob) {
  Running running;
  Finder finder;
  const std::string job = finder.start(running.server->bench().jobs());
  Client client = running.client();
  const HttpReply head = open_stream(client, job);
  EXPECT_EQ(head.status, 200);
  EXPECT_EQ(head.headers.at("Content-Type"), "text/event-stream");
  EXPECT_EQ(head.headers.at("Cache-Control"), "no-store");
  for (int n = 1; n <= 3; ++n) {
    finder.wanted = n;
    const SentEvent e = next_event(client);
    EXPECT_EQ(e.kind, "item");
    EXPECT_EQ(e.data["n"], n);
  }
  finder.enough = true;
  const SentEvent end = next_event(client);
  EXPECT_EQ(end.kind, "done");
  EXPECT_EQ(end.data["result"]["found"], 3);
  EXPECT_TRUE(client.is_closed_by_server());
}

TEST(Streams, APageThatComesBackMissesNothingAndGetsNothingTwice) {
  Running running;
  Finder finder;
  finder.wanted = 5;
  const std::string job = finder.start(running.server->bench().jobs());
  std::int64_t last = 0;
  {
    Client client = running.client();
    open_stream(client, job);
    for (int n = 1; n <= 2; ++n) last = next_event(client).id;
  }  // the phone went out of reach
  finder.wanted = 8;
  Client client = running.client();
  open_stream(client, job, "Last-Event-ID: " + std::to_string(last) + "\r\n");
  for (int n = 3; n <= 8; ++n) EXPECT_EQ(next_event(client).data["n"], n);
}

TEST(Streams, WhoHasSeenTheEndIsToldNotToComeBack) {
  Running running;
  Finder finder;
  finder.enough = true;
  const std::string job = finder.start(running.server->bench().jobs());
  Client client = running.client();
  open_stream(client, job);
  const SentEvent end = next_event(client);
  ASSERT_EQ(end.kind, "done");
  // HTML, server-sent events: "HTTP 204 No Content" tells a client to stop reconnecting.
  Client again = running.client();
  EXPECT_EQ(open_stream(again, job, "Last-Event-ID: " + std::to_string(end.id) + "\r\n").status, 204);
}

TEST(Streams, OfAJobThatIsNotThereThereIsNone) {
  Running running;
  Client client = running.client();
  EXPECT_EQ(open_stream(client, "nix").code(), "no_job");
  EXPECT_EQ(client.get("/api/jobs/nix").status, 404);
}

TEST(Streams, AJobIsSeenAndCancelledByItsId) {
  Running running;
  Finder finder;
  finder.wanted = 1;
  const std::string job = finder.start(running.server->bench().jobs());
  Client stream = running.client(), client = running.client();
  open_stream(stream, job);
  EXPECT_EQ(next_event(stream).kind, "item");
  EXPECT_EQ(client.get("/api/jobs/" + job).json()["state"], "running");
  EXPECT_EQ(client.ask("DELETE", "/api/jobs/" + job, client.own_page(), "").status, 200);
  EXPECT_EQ(next_event(stream).data["state"], "cancelled");
  EXPECT_EQ(client.get("/api/jobs/" + job).json()["items"].size(), 1u);
}

TEST(Streams, ASignOfLifeComesWhileNothingHappens) {
  ServeOptions options;
  options.heartbeat = std::chrono::milliseconds(50);
  Running running(options);
  Finder finder;
  const std::string job = finder.start(running.server->bench().jobs());
  Client client = running.client();
  open_stream(client, job);
  for (int i = 0; i < 3; ++i)
    EXPECT_NE(client.read_through(": still here\n\n").find(": still here"), std::string::npos);
}

// More streams than there are threads, while every thread for calls is busy besides: the page still comes, and so do
// the events.
TEST(Streams, FortyOfThemKeepNobodyWaiting) {
  Running running;
  Finder finder;
  const std::string job = finder.start(running.server->bench().jobs());
  std::vector<std::unique_ptr<Client>> streams, slow;
  for (int i = 0; i < 40; ++i) {
    streams.push_back(std::make_unique<Client>(running.port()));
    ASSERT_EQ(open_stream(*streams.back(), job).status, 200);
  }
  EXPECT_EQ(running.client().get("/api/folder").status, 200);
  for (int i = 0; i < 30; ++i) {
    slow.push_back(std::make_unique<Client>(running.port()));
    slow.back()->send("GET /api/test/slow HTTP/1.1\r\nHost: " + slow.back()->host() + "\r\n\r\n");
  }
  EXPECT_EQ(running.client().get("/").status, 200);
  finder.wanted = 2;
  for (auto& stream : streams)
    for (int n = 1; n <= 2; ++n) EXPECT_EQ(next_event(*stream).data["n"], n);
  running.release();
}

TEST(Streams, HeadOfAStreamEndsAtOnce) {
  Running running;
  Finder finder;
  const std::string job = finder.start(running.server->bench().jobs());
  Client client = running.client();
  EXPECT_EQ(client.ask("HEAD", "/api/jobs/" + job + "/events", "", "").status, 200);
  EXPECT_TRUE(client.is_closed_by_server());
}

// The end of the program while everything is busy: calls in handlers, streams, half a request, jobs that find things.
TEST(Streams, TheServerEndsInTheMiddleOfEverything) {
  for (int round = 0; round < 5; ++round) {
    Running running;
    std::vector<std::string> jobs;
    for (int i = 0; i < 4; ++i)
      jobs.push_back(running.server->bench().jobs().start("busy", [](JobTell& tell) -> Result<ordered_json> {
        for (int n = 0; !tell.cancelled(); ++n) tell.item(n), tell.progress(0.5, "busy");
        return ordered_json();
      }));
    std::vector<std::unique_ptr<Client>> clients;
    for (int i = 0; i < 12; ++i) {
      clients.push_back(std::make_unique<Client>(running.port()));
      const std::string path = i % 3 == 0 ? "/api/test/slow" : "/api/jobs/" + jobs[i % 4] + "/events";
      const std::string text = "GET " + path + " HTTP/1.1\r\nHost: " + clients.back()->host() + "\r\n\r\n";
      clients.back()->send(i % 3 == 1 ? text.substr(0, 30) : text);
    }
    while (running.slow_calls < 4) std::this_thread::yield();
    std::thread later([&] {
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
      running.release();
    });
    running.server.reset();
    later.join();
    EXPECT_EQ(running.slow_calls, 0);
    for (auto& client : clients) EXPECT_TRUE(client->is_closed_by_server());
  }
}

}  // namespace
}  // namespace stickwright
