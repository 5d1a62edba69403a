package card

// dictionary1 is the preset dictionary of version 1's deflate: text that
// cards are likely to hold, the likeliest last. It is part of the format and
// must not be changed; a better one needs a new version.
const dictionary1 = `per secondclockwisemeasured","seen from the pulley"],"common practice"guess"` +
	`overhead valvesside-valvebathtubwedgehemisphericalpent-roofF-headinlinedynamoalternatorsingletwinoffset dogslot and tongue` +
	`block","resistance wire","separate box","inside the cap"Notch is TDCpoints gap recheck after 500 milesbefore overhaulafter overhaul` +
	`setBy":"","checkedBy":"","date":"202","odometer":" miles","fuel":"98 RON E5","fuel":"95 RON E10","warnings":["","leftUndone":["","nextCheck":"` +
	`"capsule":{"source":"ported","code":"","startKPa":,"fullKPa":,"maxDistDeg":,"holds":true}` +
	`"idleEngineRPM":,"idleVacuumKPa":,"mark":","vernier":","markErrorCrankDeg":,"cruiseCrankDeg":,"knockCrankDeg":,"marginCrankDeg":` +
	`,"total":{"engineRPM":4000,"crankDeg":32,"vacuum":"off"},"a":{"gap":{"value":"0.015","unit":"in","source":"measured"},"gapMm":0.38,` +
	`"dwellDistDeg":60,"staticCrankDeg":8,"strobe":{"engineRPM":800,"crankDeg":10.3,"vacuum":"off"},` +
	`"altitude":["","m","ballast":["none","ballastOhm":["","ohm","capacity":["","cc","capsuleCheck":["","capsuleCode":["","chamber":["","charging":["",` +
	`"coilOhm":["","ohm","compression":["","psi","measured","compressionRatio":[".",": 1","condenser":["0.2","µF","crankRotation":["clockwise",` +
	`"cylinders":["4","","book"],"drive":["","dwell":["60 ±3","distributor degrees","dwellFast":["","distributor degrees","measured","at 1500 engine rpm"],"dwellIdle":["","distributor degrees","measured"],` +
	`"earth":["positive","","book"],"earth":["negative","","book"],"feedVoltage":["","V","measured"],"firingOrder":["1-3-4-2","","book"],"fuel":["","RON"],"gap":["0.014-0.016","in","book"],` +
	`"idleSpeed":["800","engine rpm","measured"],"idleVacuum":["","inHg","measured"],"layout":["inline","","book"],"limitPlate":["13","distributor degrees"],` +
	`"markMeaning":["","modifications":["","plugGap":["0.025","in","book"],"pointsKind":["single"],"pulleyDiameter":["","mm","measured"],"rotation":["anticlockwise","","measured","seen from the cap end"],` +
	`"scatter":["","sidePlay":["0.002","in","measured"],"staticTiming":["8","before TDC","book"],"strobeSpeed":["","strobeTiming":["","strobeVacuum":["off and plugged",` +
	`"trigger":["none"],"vacuumPort":["ported","","book"],"voltage":["12","V","book"],"year":["19","","book"]}},"d":{"n":"","t":"","r":"anticlockwise","o":[1,3,4,2],"f":{` +
	`,"noAdvanceBelowRPM":,"driveRatio":2,"listedWhile":"falling","limitDistDeg":13,"vacuumMaxDistDeg":7,` +
	`"k":[{"name":"bench, before","place":"bench","angleUnit":"distributor","speedUnit":"distributor","base":"excluded","readingErrorCrankDeg":1,` +
	`{"name":"strobe, after","place":"car","angleUnit":"crank","speedUnit":"engine","base":"included","vacuum":"off","staticCrankDeg":8,` +
	`"n":[300,400,450,500,600,700,750,800,900,1000,1200,1250,1500,1750,2000,2250,2500,2750,3000,3500,4000,4500,5000],"g":[0.5,1.5,2.5,3.5,4.5,5.5,6.5,7.5,8.5,9.5,10.5,11.5,12.5,13,13,13],"d":"rrrrrrrrrrrrrrrrffffffffffffffff"},` +
	`"l":[0,0.5,4,7,9,11,12],"h":[1,2.5,6,9,11,13,14]},"b":"` +
	`{"c":{"n":"","f":{"s":{"angleUnit":"distributor","speedUnit":"distributor","base":"excluded","baseCrankDeg":8,"baseToleranceCrankDeg":1,"n":[`
