# An independent client of multicast DNS: Debian's python3-zeroconf.
#   look.py name NAME.local    prints the IPv4 addresses it holds for the name, whenever they
#                              change; it asks only while it holds none
#   look.py service TYPE       prints what offers the service, as INSTANCE HOST PORT ADDRESS
import socket
import sys
import time

from zeroconf import DNSOutgoing, DNSQuestion, IPVersion, ServiceBrowser, Zeroconf, current_time_millis
from zeroconf.const import _CLASS_IN, _FLAGS_QR_QUERY, _TYPE_A

what, name = sys.argv[1], sys.argv[2]
client = Zeroconf(ip_version=IPVersion.V4Only)


def say(*words):
    print(*words, flush=True)


def held():
    now = current_time_millis()
    return sorted(
        {
            socket.inet_ntoa(record.address)
            for record in client.cache.entries_with_name(name.lower() + ".")
            if record.type == _TYPE_A and not record.is_expired(now)
        }
    )


def watch():
    before, asked = None, 0.0
    while True:
        addresses = held()
        if addresses != before:
            say("held", *addresses)
            before = addresses
        if not addresses and time.time() - asked > 0.5:
            question = DNSOutgoing(_FLAGS_QR_QUERY)
            question.add_question(DNSQuestion(name + ".", _TYPE_A, _CLASS_IN))
            client.send(question)
            asked = time.time()
        time.sleep(0.05)


class Listener:
    def add_service(self, _, kind, instance):
        found = client.get_service_info(kind, instance)
        if found:
            say("found", instance, found.server, found.port, *found.parsed_addresses(IPVersion.V4Only))

    def remove_service(self, _, kind, instance):
        say("gone", instance)

    def update_service(self, _, kind, instance):
        pass


if what == "name":
    watch()
browser = ServiceBrowser(client, name + ".", Listener())
time.sleep(3600)
