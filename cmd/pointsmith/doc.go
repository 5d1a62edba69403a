// Command pointsmith serves the phone app and the garage's documents from one
// binary, and runs any of its calculations on the command line.
//
//	pointsmith                      serve on port 7373 and say where
//	pointsmith calc                 list the calculations
//	pointsmith calc METHOD < in.json > out.json
//	pointsmith trust                https for this house: an authority that phones install once
//	pointsmith pair                 a one-time code for a phone; -list, -revoke ID
//	pointsmith site DIR             the app as files for any https host
//	pointsmith service              a file for systemd, launchd or Task Scheduler, and the steps; installs nothing
//	pointsmith backup FILE          copy the garage, while it is served or not; restore puts it back
//	pointsmith check                read and check the garage and its daily copies
//	pointsmith export FILE          the whole garage as JSON; import takes it in
//	pointsmith version
//
// Exit status: 0 done, 1 failed, 2 the input or the command line was refused.
package main
