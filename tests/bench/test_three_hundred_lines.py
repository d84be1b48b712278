"""Three hundred typed lines of all sorts at one bench, and what each is read as: whoever rearranges
the reader sees here what he changed. A line that is meant to be read otherwise from now on gets
its new reading, as ``read_lines`` prints it."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import rounds
from rounds.app.desk import Desk
from rounds.entries.entry_factory import kind_name
from rounds.entries.phrase.parser import read_phrase
from rounds.entries.phrase.reader import Draft
from tests.conftest import Clock

ZONE = ZoneInfo("Europe/Vienna")
BENCH = """
shelf set up sill moat
shelf set up bench
permit P-8
K2 set up laying shelf=sill place=2
K2 founder W1 Boloria dia female at Tannmoos permit=P-8
K2 founder W2 Boloria dia female at Tannmoos
K2 host in violet leaf 4 stems batch=A
K2 host in dock bud 2 stems
K3 set up laying shelf=sill place=3
K3 founder W3 Melitaea cinxia female at Tannmoos
K3 host in plantain leaf 3 stems batch=C
E2 set up eggs
brood W1/A mothers=W1
brood W3/A mothers=W3
E2 stocked W1/A egg 24
E3 set up eggs
E3 stocked W3/A egg 12
R1 set up rearing
R1 stocked W1/A larva 8 L3
R1 host in violet leaf 2 stems
R2 set up rearing
R2 stocked W3/A larva 5 L2
R2 stocked W3/A larva 4 L4
R4 set up rearing
R4 stocked W1/A larva 14
R4 host in violet leaf 3 stems
R3 set up rearing
R5 set up rearing
R5 stocked W3/A larva 1 L5
P2 set up pupation
P2 stocked W1/A pupa 7
P3 set up pupation
P3 stocked W3/A pupa 3
K1 set up pairing
K1 stocked W1/A adult 2 female
K1 stocked W1/A adult 3 male
S2 set up laying
S2 founder W4 Boloria dia female at Tannmoos
S2 host in violet leaf 3 stems
S2 host out violet kept
S2 W4 died
C1 set up pairing
C1 stocked W3/A adult 2
E1 set up eggs
E1 stocked W1/A egg 1
R7 set up rearing
R7 stocked W1/A larva 6 L4
R7 1 missing
P1 set up pupation
P1 stocked W1/A pupa 9
P1 emerged 3
L2 set up laying
L2 stocked W1/A adult 2 female
L2 host in violet leaf 3 stems
K4 set up laying
R6 set up rearing
R6 stocked W1/A pupa 4
R6 stocked W1/A larva 4 L5
"""
LINES = """
C1 eggs | asked or refused
C1 paired | paired; container 'C1'
C1 set up for | asked or refused
E1 10 eggs Pieris napi | asked or refused
E1 3hatched | hatched; container 'E1'; number 3
E1 egg batch 12 | counted; container 'E1'; number 12; stage 'egg'; note 'batch'
E1 hatched 10 into new N2 | asked or refused
E1 note | asked or refused
E1 rearing | changed; container 'E1'; purpose 'rearing'
E1 set up | asked or refused
E1 set up eggs on A | set up; container 'E1'; purpose 'eggs'; shelf 'A'
E2 died 1 larva disease instar=1 | died; cause 'disease suspected'; container 'E2'; instar 1; number 1; stage 'larva'
E2 frass | asked or refused
E2 frass trace lot=2 | frass; container 'E2'; level 'trace'; lots ('2',)
E2 moved 5 larvae to H2 | asked or refused
E2 offered | offered; container 'E2'
E2 photo " | photo; container 'E2'; file '"'
E2 photo DSC_1.PNG | photo; container 'E2'; file 'DSC_1.PNG'
E2 set up eggs 3 | set up; container 'E2'; place 3; purpose 'eggs'
E3 4 out of the egg | hatched; container 'E3'; number 4
E3 changed shelf=C | changed; container 'E3'; shelf 'C'
E3 died 1 egg cause=3 | asked or refused
E3 do not disturb until 27 May | asked or refused
E3 expected hatch brood=3 to be on 2027-05-10 and on 2027-05-09 | asked or refused
E3 expected hatch on 2026-06-05T07:00+02:00 | expected; begins 05 Jun 07:00; change 'hatch'; container 'E3'
E3 expected hatch on 28 Dec until 3 Jan | expected; begins 28 Dec 12:00; change 'hatch'; container 'E3'; until 03 Jan 12:00
E3 expected hatch on Tuesday until Friday | expected; begins 15 Jun 12:00; change 'hatch'; container 'E3'; until 18 Jun 12:00
E3 hatch expected Tue to Thu | expected; begins 15 Jun 12:00; change 'hatch'; container 'E3'; until 17 Jun 12:00
E3 hatch expected Tue until Thu | expected; begins 15 Jun 12:00; change 'hatch'; container 'E3'; until 17 Jun 12:00
K1 1/2 drank | drank; container 'K1'; number 1; of 2
K1 2 drank and one refused | drank; container 'K1'; number 2; refused 1
K1 4 eggs on nettle, 2 on hop | searched; container 'K1'; found 4; where 'nettle, 2 on hop'
K1 5 eggs seen by eye | searched; aid 'naked eye'; container 'K1'; found 5
K1 5 eggs to new E3 | searched; container 'K1'; found 5; where 'E3'; new ('E3',)
K1 W1 W2 drank | drank; container 'K1'; female 'W1'; targets (('K1', 'W1'), ('K1', 'W2'))
K1 all refused | refused; container 'K1'; number 'all'
K1 both died | died; container 'K1'; number 2
K1 both fed well | drank; container 'K1'; number 2; note 'well'
K1 bridged by a leaf | barrier; container 'K1'; state 'bridged'; note 'by a leaf'
K1 by the window | asked or refused
K1 fed sugar 10% | asked or refused
K1 found 1 dead | died; container 'K1'; number 1
K1 founder A-1, Nova incognita female | founder; code 'A-1'; container 'K1'; sex 'female'; taxon 'Nova incognita'
K1 frass trace lot not known | frass; container 'K1'; level 'trace'
K1 host changed kidney vetch, | host in; changed True; container 'K1'; plant 'kidney vetch'
K1 host=hop | asked or refused
K1 lid opened | lid opened; container 'K1'
K1 moat | asked or refused
K1 moat filled up | topped up; container 'K1'
K1 neither drank | refused; container 'K1'
K1 nettle changed | asked or refused
K1 none seen | searched; container 'K1'; found 0
K1 old stems out kept | host out; container 'K1'; fate 'held'
K1 on sill | changed; container 'K1'; shelf 'sill'
K1 one more wild female L. tityrus from Monte Bar | founder; code 'L. tityrus'; container 'K1'; place 'Monte Bar'; sex 'female'; stage 'adult'; taxon 'Boloria dia'
K1 out of the sun | light; container 'K1'; to 'shade'
K1 sticky band | asked or refused
K1 two females drank, 1 refused | drank; container 'K1'; number 2; refused 1
K1 under lot 6 | asked or refused
K2 - 4 eggs | searched; container 'K2'; found 4
K2 -- left hind wing torn | note; container 'K2'; text 'left hind wing torn'
K2 1 female | asked or refused
K2 1 gravid female | asked or refused
K2 1 more egg on the lid | searched; container 'K2'; found 1; where 'the lid'
K2 1 more female | founder; code 'W5'; container 'K2'; place 'Tannmoos'; sex 'female'; stage 'adult'; taxon 'Boloria dia'
K2 2 ants in | barrier; ants_above 2; container 'K2'; state 'breached'; note '2 ants in'
K2 20 eggs cut off in a new cup E9 | moved; container 'K2'; number 20; stage 'egg'; to 'E9'
K2 4 eggs 7:00 to 7:10 | searched 10 Jun 07:00; container 'K2'; found 4; minutes 10.0
K2 6 eggs not sure | searched; container 'K2'; found 0; unsure 6
K2 6 eggs on gorse 22:10 last night | searched 09 Jun 22:10; container 'K2'; found 6; where 'gorse'
K2 6 eggs on gorse last night 1:30 | searched 10 Jun 01:30; container 'K2'; found 6; where 'gorse'
K2 K3 host in violet leaf 8 sprigs each | host in; container 'K2'; part 'leaf'; plant 'violet'; sprigs 8; targets (('K2', ''), ('K3', '')); each True
K2 a wasp at the feeder | looked; container 'K2'; sign 'intruder'; note 'a wasp at the feeder'
K2 air 20/30 22/23 | asked or refused
K2 another 5 eggs | searched; container 'K2'; found 5
K2 another female cinxia | founder; code 'W5'; container 'K2'; place 'Tannmoos'; sex 'female'; stage 'adult'; taxon 'Melitaea cinxia'
K2 another one on the lid | searched; container 'K2'; found 1; where 'the lid'
K2 ca. 20 eggs | asked or refused
K2 cut host, old stems kept in E2 | host in; changed True; container 'K2'; held_in 'E2'; plant 'old stems kept'
K2 drink put off until 18:05, too cold | put off; check 'drink'; container 'K2'; until 10 Jun 18:05; why 'too cold'
K2 eggs 3, unsure 1 | searched; container 'K2'; found 3; unsure 1
K2 eggs are of PIE-27-01 2027-05-17 18:30 | asked or refused
K2 escaped 1 | escaped; container 'K2'; number 1
K2 fed 8 o'clock | asked or refused
K2 fed 8:15 pm | drank 09 Jun 20:15; container 'K2'
K2 fed on Sunday 18.30 | drank 06 Jun 18:30; container 'K2'
K2 feeder changed | feeder changed; container 'K2'
K2 found 6 eggs on gauze | searched; container 'K2'; found 6; where 'gauze'
K2 founder A-1, 'Pieris orata' female at 'Mill lane' caught=2027-04-28 | founder; caught 28 Apr 12:00; code 'A-1'; container 'K2'; place 'Mill lane'; sex 'female'; taxon 'Pieris orata'
K2 founder A-1, Pieris napi female collector="FN & OQ" permit=P-1 | founder; code 'A-1'; collector 'FN & OQ'; container 'K2'; permit 'P-1'; sex 'female'; taxon 'Pieris napi'; as_written ('collector',)
K2 founder Saturnia montis female | asked or refused
K2 founder W1 Euphydryas aurinia at Fen lat 45 lon 7.5 mark red permit P-8 | founder; code 'W1'; container 'K2'; latitude 45.0; longitude 7.5; mark 'red'; permit 'P-8'; place 'Fen'; taxon 'Euphydryas aurinia'
K2 founder W1 Euphydryas aurinia permit P-9 | founder; code 'W1'; container 'K2'; permit 'P-9'; taxon 'Euphydryas aurinia'
K2 founder W2 Pieris orata Wren, 1858 female | asked or refused
K2 founder W9 Aglais sorana female carried in a coolbox | founder; code 'W9'; container 'K2'; sex 'female'; taxon 'Aglais sorana'; note 'carried in a coolbox'
K2 host changed molinia old kept in new S | asked or refused
K2 host in "Anthyllis vulneraria" cut | host in; container 'K2'; plant 'Anthyllis vulneraria'; as_written ('plant',)
K2 host in "Anthyllis vulneraria" cut 3 3 sprigs | asked or refused
K2 host in Plantago water 1 sprig | host in; container 'K2'; kept 'water'; plant 'Plantago'; sprigs 1
K2 host in oxalis colour=green | asked or refused
K2 host out A binned sure | host out; batch 'A'; container 'K2'; fate 'binned'; sure True
K2 hot 34 | air; container 'K2'; temperature_c 34.0
K2 in the sun 34 C | light; container 'K2'; temperature_c 34.0; to 'sun'
K2 last night at 22:10 6 eggs on gorse | searched 09 Jun 22:10; container 'K2'; found 6; where 'gorse'
K2 light dark until 20 May | asked or refused
K2 marked W9 green | marked; brood 'W9'; container 'K2'; mark 'green'
K2 merged sources=K3 | merged; container 'K2'; sources ('K3',)
K2 misted K3 | asked or refused
K2 moved M3 to K3 | asked or refused
K2 moved to | asked or refused
K2 new sugar water | feeder changed; container 'K2'; food 'sugar water'
K2 note 44.1236 N by the phone | note; container 'K2'; text '44.1236 N by the phone'
K2 note sun on it from nine, by 47.65 N 8.32 E | note; container 'K2'; text 'sun on it from nine, by 47.65 N 8.32 E'
K2 note yesterday 20:00 she sat under the lid | note 09 Jun 20:00; container 'K2'; text 'she sat under the lid'
K2 one of W2,W3 died | died; among ('W2', 'W3'); container 'K2'; number 1
K2 paired W2 with W3 | paired; container 'K2'; female 'W2'; male 'W3'
K2 put off 'no eggs?' until +2d why='wait another day' | put off; check 'no eggs?'; container 'K2'; until 12 Jun 11:20; why 'wait another day'
K2 release by to be until='2027-05-04 09:00' permit=24-118 and | release by; code 'be and'; container 'K2'; permit '24-118'; until 04 May 09:00
K2 released 1 W1 place= | released; brood 'W1'; container 'K2'; number 1; place ''
K2 searched 4 7:00-7:20 | searched 10 Jun 07:00; container 'K2'; found 4; minutes 20.0
K2 searched 5 of PIE-27-01 | searched; brood 'PIE-27-01'; container 'K2'; found 5
K2 searched 5 red on vetchling | searched; container 'K2'; found 5; where 'red on vetchling'
K2 searched 6 on gorse just now | searched; container 'K2'; found 6; where 'gorse'
K2 searched 6 on gorse yesterday evening 7:30 | searched 09 Jun 19:30; container 'K2'; found 6; where 'gorse'
K2 she is dead | died; container 'K2'; number 1
K2 sun 34 | light; container 'K2'; temperature_c 34.0; to 'sun'
K2:4 eggs | searched; container 'K2'; found 4
K3 1 recaught | asked or refused
K3 12 C | air; container 'K3'; temperature_c 12.0
K3 2 eggs on bud 1 on leaf | searched; container 'K3'; found 2; where 'bud 1 on leaf'
K3 3 eggs, 2 on bud 1 on leaf | searched; container 'K3'; found 2; where 'bud 1 on leaf'
K3 5 eggs on | searched; container 'K3'; found 5; where 'on'
K3 cleaned | cleaned; container 'K3'
K3 confirmed | searched; confirmed True; container 'K3'
K3 drank unmarked | drank; container 'K3'; female 'W3'
K3 founder W8 Pieris napi female from "Lohe, upper meadow" | founder; code 'W8'; container 'K3'; place 'Lohe, upper meadow'; sex 'female'; taxon 'Pieris napi'; as_written ('place',)
K3 founder W8 Pieris napi female from Lohe, Cardamine pratensis | asked or refused
K3 host in 3 leaf | host in; container 'K3'; part 'leaf'; plant 'the plant that stands there'; sprigs 3
K3 host in honeysuckle young leaves 4 stems cut at Alder carr yesterday 18:00 | host in; container 'K3'; cut 09 Jun 18:00; part 'young leaves'; plant 'honeysuckle'; source 'Alder carr'; sprigs 4
K3 host in primrose instead of honeysuckle | asked or refused
K3 host out held_in=E6 | host out; container 'K3'; held_in 'E6'
K3 lot 1 discarded | host out; container 'K3'; fate 'binned'; lots ('1',)
K3 moved 3 stems to new S2 | host out; container 'K3'; held_in 'S2'; lots ('all',); sprigs 3; new ('S2',)
K3 one of them drank by hand | drank; container 'K3'; how 'when helped'; number 1
K3 released red | asked or refused
K3 same again worn male | founder; code 'W5'; container 'K3'; place 'Tannmoos'; sex 'male'; stage 'adult'; taxon 'Melitaea cinxia'; wear 'worn'
K3 violet limp, changed | host seen; container 'K3'; plant 'violet changed'; state 'limp'
K4 1 female Boloria dia on violet | asked or refused
K4 5 eggs, ok | searched; container 'K4'; found 5; looked 'as usual'
K4 W5 moved to M3 | asked or refused
K4 condensation, 4 eggs | searched; container 'K4'; found 4; looked 'condensation'
K4 weak, 3 eggs | searched; container 'K4'; found 3; looked 'weak'
L2 1 unsure more on fennel -- by the window | searched; container 'L2'; found 0; unsure 1; where 'fennel'; note 'by the window'
L2 covered | covered; container 'L2'
L2 drank number=many | asked or refused
L2 feeder dry | feeder seen; container 'L2'; state 'dry'
L2 host fresh | host seen; container 'L2'; state 'fresh'
L2 release by +2h code=ZZ | release by; code 'ZZ'; container 'L2'; until 10 Jun 13:20
L2 searched 9 host=Lathyrus latifolius | searched; container 'L2'; found 9; plant 'Lathyrus latifolius'
P1 1 emerged overnight | emerged; container 'P1'; evidence 'inferred'; number 1
P1 1 female emerged | emerged; container 'P1'; number 1; sex 'female'
P1 6 chrysalises | counted; container 'P1'; number 6; stage 'pupa'
P1 fine 1 female | looked; container 'P1'; number 1; sign 'as usual'
P1 one crippled | emerged; container 'P1'; crippled 1; instead_of 'the last'; number 1
P2 1 crippled | asked or refused
P2 another adult | emerged; container 'P2'; number 1
P2 emerged 1 crippled | emerged; container 'P2'; crippled 1; number 1
P2 emerged 1 female crippled | emerged; container 'P2'; crippled 1; number 1; sex 'female'
P2 emerged 3 female crippled | asked or refused
P2 in diapause | changed; container 'P2'; purpose 'overwintering'
P2 one more pupa | counted; container 'P2'; number 8; stage 'pupa'
P2 released 13 males | released; container 'P2'; number 13; sex 'male'
P2 released all 12 | released; container 'P2'; number 12
P2 sexed 5 female | sexed; container 'P2'; number 5; sex 'female'
P3 1m 1f emerged | emerged; container 'P3'; number 1; sex 'male'; second_sex (1, 'female')
P3 fly emerged | asked or refused
R1 1 dead, black and soft | died; container 'R1'; number 1; note 'black and soft'
R1 1 fresh leaf | asked or refused
R1 1 more larva dead | died; container 'R1'; number 1; stage 'larva'
R1 10 L2 Saturnia pavonia on bramble | asked or refused
R1 14 L3 | counted; container 'R1'; instar 3; number 14; stage 'larva'
R1 2 L4 larvae moulted L5 | moulted; container 'R1'; instar 5; number 2
R1 2 found dead under the stem | died; container 'R1'; number 2; note 'under the stem'
R1 2 moulted | asked or refused
R1 3 ants above | barrier; ants_above 3; container 'R1'; state 'ants'
R1 3 hanging, rest fine | looked; container 'R1'; number 3; sign 'hanging'
R1 4 in diapause | asked or refused
R1 40 eggs Melitaea celans at Fen permit P-7 | asked or refused
R1 5 L4 and 3 L3 | moulted; container 'R1'; instar 4; number 5
R1 7 feeding, 3 hanging up | asked or refused
R1 7 into R2 | moved; container 'R1'; number 7; to 'R2'
R1 added leaf | host in; container 'R1'; part 'leaf'; plant 'the plant that stands there'
R1 all but one L4 | moulted; container 'R1'; instar 4; number 7
R1 cleared | cleared; container 'R1'
R1 eating well, 3 hanging | looked; container 'R1'; number 3; sign 'hanging'
R1 hatched 5 instar_not_known=yes | hatched; container 'R1'; instar_not_known True; number 5
R1 host in ribwort leaf water 1 | host in; container 'R1'; kept 'water'; part 'leaf'; plant 'ribwort'; sprigs 1
R1 leaves added, 4 stems | host in; container 'R1'; part 'leaves'; plant 'the plant that stands there'; sprigs 4
R1 lots of poo | frass; container 'R1'; level 'plain'
R1 missing 2 larvae not known | missing; container 'R1'; number 2; stage 'larva'; which 'not known'
R1 moved to ribwort | asked or refused
R1 only 7 left | counted; container 'R1'; number 7; stage 'larva'
R1 parasitoid 14 Cotesia hosts=1, 3 kept voucher=W1-W3 | parasitoid; container 'R1'; hosts 1; kept 3; number 14; taxon 'Cotesia'; voucher 'W1-W3'
R1 preserved 1 larva V7 in 'Town museum' | preserved; container 'R1'; depository 'Town museum'; number 1; stage 'larva'; voucher 'V7'
R1 settled found 1 | settled; container 'R1'; fate 'found'; number 1
R1 stocked larvae A-3 | asked or refused
R2 L2 all | counted; container 'R2'; instar 2; number 9; stage 'larva'
R2 caterpillars moulted L2 | asked or refused
R2 died all yesterday 19:00 | died 09 Jun 19:00; container 'R2'; number 'all'
R2 fed nettle 4 stems | asked or refused
R2 host in 5 stems hop beside | host in; container 'R2'; plant 'hop'; sprigs 5
R2 moved 2 larvae to R3 | moved; container 'R2'; number 2; stage 'larva'; to 'R3'
R2 moved to another branch | asked or refused
R2 pupated 1 | pupated; container 'R2'; number 1
R2 split 4 L3 into R5 | split; container 'R2'; instar 3; into ('R5',); numbers (4,); stage 'larva'
R2 split 8 L1 to R4, 7 L1 to R5 | split; container 'R2'; instar 1; into ('R4', 'R5'); numbers (8, 7); stage 'larva'
R2 split 8 into R4 and 7 into R5 | split; container 'R2'; into ('R4', 'R5'); numbers (8, 7)
R3 2 L3 to R4, 1 L4 to new R5 | asked or refused
R3 changed purpose= | changed; container 'R3'; purpose ''
R3 host in kale cut not known | host in; container 'R3'; cut_not_known True; plant 'kale'
R3 merged R4 R2 | merged; container 'R3'; sources ('R4', 'R2')
R3 moulted 2 number=3 | asked or refused
R3 new leaf | asked or refused
R4 2 dead one black one green | died; container 'R4'; number 2; note 'one black one green'
R4 2 dead, one under the lid | died; container 'R4'; number 2; note 'one under the lid'
R4 2 prepupae to P2 | moved; container 'R4'; number 2; stage 'larva'; to 'P2'
R4 3 pupated and 4 left | asked or refused
R4 another female | asked or refused
R4 cannot be merged into itself | asked or refused
R4 died 2 larvae cause unknown | died; cause 'unknown'; container 'R4'; number 2; stage 'larva'
R4 hatched 1 more | hatched; container 'R4'; number 1
R4 host in spurge washed | asked or refused
R4 leave be until=+24h yesterday 20:00 | leave be 09 Jun 20:00; container 'R4'; until 10 Jun 20:00
R4 merged sources=R7,E3 10 | merged; container 'R4'; number 10; sources ('R7', 'E3')
R4 moulted 1 L3 | moulted; container 'R4'; instar 3; number 1
R4 parasitoid | parasitoid; container 'R4'; number 1
R4 settled dead 1 not known | settled; container 'R4'; fate 'dead'; number 1; which 'not known'
R4 stocked 5 L2 A | stocked; brood 'A'; container 'R4'; instar 2; number 5; stage 'larva'
R5 1 not moving | looked; container 'R5'; number 1; sign 'still'
R5 ants away | barrier; container 'R5'; state 'no ants'
R5 ants seen | barrier; container 'R5'; state 'ants'
R5 closed | closed; container 'R5'
R5 counted 28 | counted; container 'R5'; number 28
R5 counted not known | put off; check 'count'; container 'R5'; why 'counted: not possible'
R5 host in sorrel leaf and 3 sprigs | host in; container 'R5'; part 'leaf'; plant 'sorrel'; sprigs 3
R5 host in sorrel leaf and buds of dock | host in; container 'R5'; part 'leaf'; plant ('sorrel', 'buds of dock')
R5 host in sorrel leaf, buds of dock | host in; container 'R5'; part 'leaf'; plant ('sorrel', 'buds of dock')
R5 host in sorrel leaf, dock | host in; container 'R5'; plant ('sorrel leaf', 'dock')
R5 larvae inside leaf | put off; check 'count'; container 'R5'; why 'counted: not possible, larvae inside plant'
R5 misted | misted; container 'R5'
R6 counted all L2 | counted; container 'R6'; instar 2; number 'all'; stage 'larva'
R6 leave be +1d -- moulting | leave be; container 'R6'; until 11 Jun 11:20; why 'moulting'
R6 split 1 each into new | asked or refused
R7 do not disturb until 16:20 -- moulting | leave be; container 'R7'; until 10 Jun 16:20; why 'moulting'
R7 moat 3 | barrier; container 'R7'; depth_mm 3.0; state 'full'
R7 moved to R9 4 | moved; container 'R7'; number 4; to 'R9'
R7 suspect | suspect; container 'R7'
S2 1 more larva | hatched; container 'S2'; number 1; on_kept_stems True
S2 moved 20 eggs to K2 | moved; container 'S2'; number 20; stage 'egg'; to 'K2'
W1 killed for the collection | preserved; brood 'W1'; container 'K2'; number 1
W1 lat 46.55 lon 6.07 | founder; code 'W1'; container 'K2'; latitude 46.55; longitude 6.07; better True
W1 permit P-8 | founder; code 'W1'; container 'K2'; permit 'P-8'; better True
W1/A is of W1 | brood; code 'W1/A'; mothers ('W1',); better True
W2 drank 5 | drank; container 'K2'; female 'W2'; number 5
W2 from Ferny Down on 5 Jun 11:00 | founder; caught 05 Jun 11:00; code 'W2'; container 'K2'; place 'Ferny Down'; better True
W2 misted | misted; container 'K2'
W2 moved to new R9 | moved; brood 'W2'; container 'K2'; number 1; to 'R9'; new ('R9',)
W2 or W3 died | died; among ('W2', 'W3'); container 'K2'; number 1
W3 at Ferny Down caught 9 Jun 14:20 wear fresh | founder; caught 09 Jun 14:20; code 'W3'; container 'K3'; place 'Ferny Down'; wear 'fresh'; better True
W3 collector=KM | founder; code 'W3'; collector 'KM'; container 'K3'; better True
W3 is dead | died; brood 'W3'; container 'K3'; number 1
W3/A is Polyommatus icarus | asked or refused
W4 died in the night | asked or refused
W5 had not come yet | asked or refused
brood LEP-27-01 taxon='Leptidea juvernicoides' | brood; code 'LEP-27-01'; taxon 'Leptidea juvernicoides'
misted all | asked or refused
move K2 lot 2 to E7 | asked or refused
move K2 stems to B2 | asked or refused
permit 12/345 until 30.9.2027 | permit; expires 30 Sep 12:00; number '12/345'
permit P-1 'Zerynthia polyxena' females=3 | permit; females 3; number 'P-1'; taxon 'Zerynthia polyxena'
permit P-8 for "Boloria dia" and "Boloria selene" | permit; number 'P-8 and Boloria selene'; taxon 'Boloria dia'; as_written ('number', 'taxon')
permit P2 expires 20/5/27 | permit; expires 20 May 12:00; number 'P2'
room 18-26 | air; high_c 26.0; low_c 18.0
room 1C | air; temperature_c 1.0
room 22/48% | air; humidity_percent 48.0; temperature_c 22.0
room 77 degrees F | air; temperature_c 25.0
room hot | asked or refused
room logger read file=series/room-0123456789ab.csv rows=2 since=2026-05-20T07:00:00+02:00 until=2026-05-20T07:10:00+02:00 low_c=20 high_c=21.5 | logger read; file 'series/room-0123456789ab.csv'; high_c 21.5; low_c 20.0; rows 2; since 20 May 07:00; until 20 May 07:10
setting phone 01234 567890 | setting; name 'phone'; value '01234 567890'
setting zone Europe/Lisbon -1d | setting 09 Jun 11:20; name 'zone'; value 'Europe/Lisbon'
shelf D set up barrier moat | shelf set up; barrier 'moat'; shelf 'D'
shelf garden outdoors | shelf set up; apart True; shelf 'garden'
shelf set up cold room apart | shelf set up; apart True; shelf 'cold room'
shelf set up sill moat 1 | shelf set up; barrier 'moat'; place 1; shelf 'sill'
shelf sill barrier breached, 1 ant above | barrier; ants_above 1; shelf 'sill'; state 'breached'
sill 24° 61% | air; humidity_percent 61.0; shelf 'sill'; temperature_c 24.0
sill 3 ants above | barrier; ants_above 3; shelf 'sill'; state 'breached'
sill ants | barrier; shelf 'sill'; state 'ants'
sill ants in moat | asked or refused
sill max 29,4 min 13 | air; high_c 29.4; low_c 13.0; shelf 'sill'
"""
ASKED = "asked or refused"


def test_each_line_is_read_as_it_was(tmp_path: Path) -> None:
    expected = dict(line.split(" | ", 1) for line in LINES.strip().splitlines())
    assert len(expected) == 300
    read = read_lines(tmp_path, list(expected))
    otherwise = [f"{line} | {read[line]}" for line in expected if read[line] != expected[line]]
    assert not otherwise, "\n" + "\n".join(otherwise)


def read_lines(folder: Path, lines: list[str]) -> dict[str, str]:
    """What each line is read as at that bench."""
    clock = Clock(datetime(2027, 6, 1, 8, 0, tzinfo=ZONE))
    book = rounds.open_book(folder / "book", keeper="AB", clock=clock, zone=ZONE)
    for line in BENCH.strip().splitlines():
        clock.on(minutes=20)
        book.record(line)
    clock.on(hours=200)
    return {line: _read(book.desk, line) for line in lines}


def _read(desk: Desk, line: str) -> str:
    draft = read_phrase(
        line,
        now=desk.now(),
        zone=ZONE,
        codes=desk.codes,
        shelves=list(desk.bench.shelves),
        bench=desk.bench,
    )
    if not isinstance(draft, Draft):
        return ASKED
    fields = {name: draft.fields[name] for name in sorted(draft.fields)}
    if "instead_of" in fields:
        fields["instead_of"] = "the last"  # an entry's own name, of chance
    parts = {name: getattr(draft, name) for name in Draft.__struct_fields__[3:]}
    parts["as_written"] = tuple(sorted(draft.as_written))
    told = fields | {name: part for name, part in parts.items() if part}
    when = f" {draft.at:%d %b %H:%M}" if draft.at else ""
    said = (f"; {name} {_plain(part)}" for name, part in told.items())
    return f"{kind_name(draft.kind)}{when}{''.join(said)}"


def _plain(part: object) -> str:
    return f"{part:%d %b %H:%M}" if isinstance(part, datetime) else repr(part)
