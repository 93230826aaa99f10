# Ce que noonwater dit en français. La valeur d'un message est sa forme complète ; .short et .tiny disent la même chose en
# moins de lettres. Les nombres arrivent déjà écrits. language.toml remplace les lettres que l'alphabet des SMS n'a pas.

# $sheet: the sheet as a message that could be sent again.
told = J'ai compris : { $sheet }.
    .tiny = { $sheet }.
took-word = J'ai lu { $word }.
    .tiny = Lu : { $word }.

# $verdict: enough, tight, short, unfit (too much voltage), or open when no garden was told.
answer = { $verdict ->
       *[enough] SUFFISANT : environ { $water } m3 par jour en { $month }, de quoi arroser { $area } m2.
        [tight] TOUT JUSTE : environ { $water } m3 par jour en { $month }, de quoi arroser { $area } m2.
        [short] PAS ASSEZ : environ { $water } m3 par jour en { $month }, de quoi arroser seulement { $area } m2.
        [unfit] INADAPTÉ : à midi ces panneaux donnent trop de tension : la pompe ne tiendra pas.
        [open] Environ { $water } m3 par jour en { $month }, de quoi arroser { $area } m2.
    }
    .tiny = { $verdict ->
       *[enough] SUFFISANT : { $water } m3/j { $month }, { $area } m2.
        [tight] TOUT JUSTE : { $water } m3/j { $month }, { $area } m2.
        [short] PAS ASSEZ : { $water } m3/j { $month }, { $area } m2.
        [unfit] INADAPTÉ : trop de tension, pompe perdue.
        [open] { $water } m3/j { $month }, { $area } m2.
    }
answer-no-need = Environ { $water } m3 par jour en { $month } ; la culture n'a alors pas besoin d'arrosage.
    .tiny = { $water } m3/j { $month }, pas besoin d'arroser.
no-water = PAS D'EAU : ce matériel ne peut pas monter l'eau à { $lift } m ici.
    .tiny = PAS D'EAU : { $lift } m est trop haut.
assumed = Si { $things }.
assumed-pump = pompe { $volts }V { $flow } l/h { $head }m
    .tiny = pompe { $flow } l/h
assumed-volts = pompe { $volts }V
    .tiny = { $volts }V
assumed-bore = tuyau de { $bore } mm
    .tiny = { $bore } mm
assumed-flat = panneaux à plat
    .tiny = à plat
assumed-panels = panneaux { $panels } W
    .tiny = { $panels } W
assumed-crop = { $crop }
assumed-watering = arrosage { $watering }
    .tiny = { $watering }
assumed-place = lieu { $place }
    .tiny = { $place }

over-driven = Trop de panneaux : à midi ils usent la pompe. N'en gardez que { $panels }.
    .tiny = Trop : gardez { $panels } panneaux.
over-driven-less = Tension trop forte : à midi elle use la pompe. { $panels } panneaux l'épargnent mais n'arrosent que { $area } m2.
    .tiny = Usure : { $panels } panneaux, mais { $area } m2.
wire-burns = Câble { $size } mm2 peut brûler : prenez { $take }.
    .tiny = Câble { $size } brûle : prenez { $take }.
wire-burns-split = Câble { $size } mm2 peut brûler : partagez en deux.
    .tiny = Câble { $size } mm2 brûle : partagez.
mismatch = Panneaux { $panels } V sur pompe { $pump } V.
joined = { $how ->
       *[row] Panneaux en ligne, + au -.
        [side] Panneaux côte à côte : + au +, - au -.
        [both] Panneaux : { $series } en ligne (+ au -), { $parallel } lignes côte à côte.
    }
    .tiny = { $how ->
       *[row] Panneaux en ligne.
        [side] Panneaux côte à côte.
        [both] { $series } en ligne, { $parallel } lignes.
    }
left-over = { $panels } en trop.
hours = { $hours } h de soleil arrosent vos { $garden } m2. Planche de 10 m2 : { $minutes } min { $seconds } s ou { $cans } arrosoirs.
    .tiny = { $hours } h de soleil suffisent. 10 m2 : { $minutes } min { $seconds } s.
ask-guess = { $guess ->
       *[amps] Combien d'ampères sur la plaque de la pompe ? Cela peut tout changer. Exemple : 10a
        [panel_v] Combien de volts sur la plaque du panneau (Vmp) ? Cela peut tout changer. Exemple : panneau 31v
        [bore_mm] Diamètre intérieur du tuyau en mm ? Cela peut tout changer. Exemple : diamètre 50
        [low_m] Combien de mètres de hauteur à l'étiage ? Cela peut tout changer. Exemple : étiage 4
        [bucket_test] Pour être sûr, chronométrez cinq seaux. Exemple : essai 75 l 40 s à 3
    }
    .tiny = { $guess ->
       *[amps] Ampères de la pompe ? 10a
        [panel_v] Volts du panneau ?
        [bore_mm] Diamètre en mm ?
        [low_m] Hauteur à l'étiage ?
        [bucket_test] Pour être sûr : ESSAI.
    }
over-driven-always = Tension trop forte : à midi elle use la pompe. Prenez des panneaux plus petits.
    .short = La pompe s'use vite : panneaux plus petits.
    .tiny = S'use : panneaux plus petits.
well-runs-dry = La pompe prend plus que le puits ne donne. Freinez la SORTIE ou arrosez par tours ; jamais l'entrée, jamais à sec.
    .short = Le puits peut se vider : freinez la sortie.
    .tiny = Puits vite vide.
high-voltage = Danger : plus de 60 V. Un électricien agréé doit câbler, selon les règles locales.
    .short = Plus de 60 V : électricien agréé seulement.
    .tiny = Plus de 60 V : électricien agréé.

safety = { $line ->
       *[switch_off] Coupez et débranchez avant de toucher la pompe ou les fils.
        [dry_joints] Gardez les branchements et l'interrupteur au sec, hors de l'eau.
        [panels_live] À la lumière, un panneau est sous tension : couvrez-le avant de relier les fils.
        [dc_breaker] Prenez un disjoncteur pour courant continu (DC) et vos volts, + et - comme indiqué : un AC, ou posé à l'envers, peut ne pas couper l'arc.
        [children] Pas d'enfants près de la pompe, de la berge ou d'un puits ouvert.
        [never_dry] Ne laissez jamais la pompe tourner à sec.
        [two_people] S'il y a du vent, portez les panneaux à deux et attachez-les.
        [not_drink] Sans traitement, ne buvez pas cette eau et n'y lavez rien de cru. Elle porte aussi la bilharziose : restez hors de l'eau.
        [electrician] Plus de 60 V, secteur ou pompe dans un puits : électricien agréé, règles locales.
        [in_water] Personne debout, à laver ou à nager près de la pompe qui tourne. Gaine du fil abîmée ou pompe fendue : ne vous en servez pas.
        [well] La pompe d'un puits se remonte par sa corde. Personne n'y descend : l'air vicié tue. Câblage : un électricien agréé.
        [storm] Tonnerre : quittez chariot, fils et fleuve. Revenez 30 minutes après le dernier coup.
        [plug] Coupez d'abord, débranchez ensuite. Une prise tirée en marche fait un arc qui brûle les mains et la prise.
        [poison] Poison et engrais : mélangez loin du fleuve et du puits, dans d'autres bidons. N'amorcez jamais un tuyau à la bouche.
    }
    .short = { $line ->
       *[switch_off] Coupez et débranchez avant de toucher la pompe ou les fils.
        [dry_joints] Gardez les branchements et l'interrupteur au sec, hors de l'eau.
        [panels_live] À la lumière, un panneau est sous tension : couvrez-le avant de relier les fils.
        [dc_breaker] Prenez un disjoncteur pour courant continu (DC) : un AC peut ne pas couper l'arc.
        [children] Pas d'enfants près de la pompe, de la berge ou d'un puits ouvert.
        [never_dry] Ne laissez jamais la pompe tourner à sec.
        [two_people] S'il y a du vent, portez les panneaux à deux et attachez-les.
        [not_drink] Ne buvez pas cette eau sans la traiter.
        [electrician] Plus de 60 V, secteur ou pompe dans un puits : électricien agréé, règles locales.
        [in_water] Personne dans l'eau près de la pompe qui tourne.
        [well] Personne ne descend dans un puits : l'air vicié tue.
        [storm] Tonnerre : quittez chariot, fils et fleuve.
        [plug] Coupez d'abord, débranchez ensuite : sinon l'arc brûle.
        [poison] Poison et engrais : mélangez loin du fleuve et du puits.
    }
    .tiny = { $line ->
       *[switch_off] Coupez avant de toucher la pompe.
        [dry_joints] Connexions, interrupteur au sec.
        [panels_live] Couvrez panneaux avant de relier.
        [dc_breaker] Disjoncteur DC, + et - respectés.
        [children] Pas d'enfants près de la pompe.
        [never_dry] Jamais de pompe à sec.
        [two_people] Vent : portez à deux, attachez.
        [not_drink] Ne buvez pas sans traiter.
        [electrician] > 60 V, secteur : électricien.
        [in_water] En marche : personne dans l'eau.
        [well] Puits : personne n'y descend.
        [storm] Tonnerre : quittez fils et eau.
        [plug] Coupez d'abord, puis débranchez.
        [poison] Pas de poison près de l'eau.
    }

next-word = Envoyez { $word } pour en savoir plus.
    .tiny = Envoyez { $word }.

# The one question of a message, by field.
ask = { $field ->
       *[lift] De combien de mètres l'eau doit-elle monter, jusqu'à la sortie du tuyau ? Exemple : hauteur 3
        [low] Et quand l'eau est au plus bas, combien de mètres à monter ? Exemple : eau basse 4
        [pipe] Combien de mètres de tuyau de la pompe au jardin ? Exemple : tuyau 30
        [bore] Quel diamètre intérieur du tuyau, en mm ? Exemple : diamètre 50
        [panel] Combien de panneaux, de combien de watts ? Exemple : panneau 3x100
        [stance] Les panneaux sont-ils à plat, fixes, ou tournés à la main ?
        [pump] Que dit l'étiquette de la pompe ? Exemple : pompe 12v 9000 l/h 6m 10a
        [suction] À combien de mètres au-dessus de l'eau est la pompe ? Exemple : aspiration 3
        [well] Combien de litres par heure donne le puits ? Exemple : puits 2000
        [garden] Quelle est la surface du jardin en mètres carrés ? Exemple : jardin 900
        [crop] Quelle culture ? Exemple : culture tomate
        [soil] Quel sol : sable, limon sableux, limon ou argile ? Exemple : sol argile
        [month] Quel mois ? Exemple : mois septembre
        [watering] Comment arrosez-vous : rigole, tuyau ou arrosoir, goutte à goutte, asperseur ?
        [wire] Combien de mètres de câble des panneaux à la pompe ? Exemple : câble 10
        [place] Près de quel lieu êtes-vous ? Exemple : lieu Kito
    }
    .tiny = { $field ->
       *[lift] Hauteur en mètres ?
        [low] Hauteur en eau basse ?
        [pipe] Mètres de tuyau ?
        [bore] Diamètre en mm ?
        [panel] Panneaux ? Exemple : panneau 3x100
        [stance] À plat, fixes ou tournés ?
        [pump] Étiquette de la pompe ?
        [suction] Pompe : mètres au-dessus de l'eau ?
        [well] Litres par heure du puits ?
        [garden] Jardin en m2 ?
        [crop] Quelle culture ?
        [soil] Sable, limon ou argile ?
        [month] Quel mois ?
        [watering] Rigole, tuyau, goutte à goutte ou asperseur ?
        [wire] Mètres de câble ?
        [place] Quel lieu ?
    }

refused-range = { $field } { $value } n'est pas possible : il faut de { $low } à { $high } { $unit }.
    .tiny = { $field } : de { $low } à { $high } { $unit } seulement.
refused-unit = { $field } ne se mesure pas dans cette unité : envoyez en { $unit }.
refused-unknown-unit = { $field } : je ne connais pas cette unité. Envoyez en { $unit }.
refused-no-number = { $field } : mettez un nombre après.
refused-whole = { $field } : il faut un nombre entier.
refused-one = { $field } : envoyez un seul nombre.
refused-twice = { $field } : j'en ai lu plusieurs. Envoyez-en un seul.
refused-gallon = Gallons US ou anglais ? Envoyez us ({ $us } l/h) ou impérial ({ $imperial } l/h).
refused-which = { $value }, c'est quoi ? Mettez le mot devant, par exemple : hauteur 3
refused-test = Il faut les litres et les secondes. Exemple : essai 75 l 40 s 3 m

is-it-right = { $field } { $value } { $unit }, c'est rare. Est-ce juste ? Envoyez oui, ou { $field } et le bon nombre.
    .tiny = { $field } { $value } { $unit } : juste ? Envoyez oui ou { $field } corrigé.
low-below-lift = La hauteur en eau basse { $low } m est plus petite que la hauteur { $lift } m. Est-ce juste ? Envoyez oui, ou eau basse et le bon nombre.
# Of a message in a list, whose sender cannot be asked.
unusual = { $field } { $value } { $unit } est inhabituel : vérifiez.
unusual-low = Eau basse { $low } m, moins que hauteur { $lift } m : vérifiez.
# A word that is of use in a talk only, in a message of a list.
only-in-talk = { $word } ne sert que par téléphone. Rien n'a été fait ici.
did-you-mean = Vouliez-vous dire { $meant } pour { $word } ? Envoyez oui ou non.
    .tiny = Vouliez-vous dire { $meant } ? Envoyez oui ou non.
passed-over = Pas compris : { $words }.
nothing-understood = Je n'ai pas compris. Envoyez par exemple : hauteur 3 tuyau 30 panneau 3x100 jardin 900 (mètres, mètres, watts, m2)
place-unknown = Je ne connais pas { $name }. Lieux : { $known }. Envoyez : lieu { $first }, ou une grande ville proche, ou des degrés : lieu -8,2 35,1
    .short = Je ne connais pas { $name }. Envoyez : lieu { $first }, ou une grande ville proche, ou des degrés : lieu -8,2 35,1
    .tiny = Je ne connais pas ce lieu. Envoyez : lieu { $first }
still-same = Est-ce toujours le même jardin et la même pompe ? Envoyez oui ou non.
new-sheet = Nouvelle fiche.
not-understood = Je n'ai pas compris.
only-start-read = Message trop long : j'ai lu seulement le début.
no-more = C'est tout. Mots : installer, entretien, câble, tuyau, aide.

# What a field is and how to measure it, when its word comes alone.
about = { $field ->
       *[lift] Hauteur : mètres à la verticale, de l'eau à la sortie. Visez de niveau sur un tuyau clair plein d'eau, ou comptez vos tailles. Exemple : hauteur 3
        [low] Eau basse : la hauteur quand l'eau est au plus bas, en fin de saison sèche. Exemple : eau basse 4
        [pipe] Tuyau : mètres de la pompe au jardin, au sol. Un pas fait environ 0,7 m. Exemple : tuyau 30
        [bore] Diamètre : largeur du tuyau à l'intérieur, en mm. Trop étroit, il freine l'eau. Exemple : diamètre 50
        [panel] Panneau : combien, et les watts écrits au dos. Exemple : panneau 3x100
        [stance] Pose : à plat, fixe incliné, ou tourné à la main vers le soleil. Exemple : tourné
        [pump] Pompe : volts, ampères, litres par heure, hauteur max de l'étiquette. Exemple : pompe 12v 9000 l/h 6m 10a
        [suction] Aspiration : mètres de la pompe au-dessus de l'eau. Clapet en bas, pompe et tuyau remplis d'abord ; jamais à la bouche. Exemple : aspiration 3
        [well] Puits : videz-le de 1 m, chronométrez le retour. Litres par heure = 47000 x largeur x largeur / minutes (largeur en m). Exemple : puits 2000
        [garden] Jardin : longueur x largeur en mètres. Exemple : jardin 50x30
        [crop] Culture : chacune boit plus ou moins. Exemple : culture tomate
        [soil] Sol : une boule de terre mouillée s'effrite : sable ; tient : limon ; se roule en ficelle : argile. Exemple : sol argile
        [month] Mois : celui qui vous intéresse ; sinon le plus sec. Exemple : mois septembre
        [watering] Arrosage : rigole, tuyau, goutte à goutte, asperseur. Le goutte à goutte prend le moins d'eau. Exemple : goutte à goutte
        [wire] Câble : long et fin, il perd du courant. Prenez-le court et gros, avec un disjoncteur DC. Exemple : câble 10
        [place] Lieu : votre village ou le plus proche connu, pour le soleil et la pluie. Exemple : lieu Kito
    }
    .tiny = { $field ->
       *[lift] Hauteur : mètres à la verticale, de l'eau à la sortie. Mesurez avec une corde. Exemple : hauteur 3
        [low] Eau basse : la hauteur quand l'eau est au plus bas, en fin de saison sèche. Exemple : eau basse 4
        [pipe] Tuyau : mètres de la pompe au jardin, au sol. Un pas fait environ 0,7 m. Exemple : tuyau 30
        [bore] Diamètre : largeur du tuyau à l'intérieur, en mm. Trop étroit, il freine l'eau. Exemple : diamètre 50
        [panel] Panneau : combien, et les watts écrits au dos. Exemple : panneau 3x100
        [stance] Pose : à plat, fixe incliné, ou tourné à la main vers le soleil. Exemple : tourné
        [pump] Pompe : volts, ampères, litres par heure, hauteur max de l'étiquette. Exemple : pompe 12v 9000 l/h 6m 10a
        [suction] Aspiration : mètres au-dessus de l'eau. Clapet en bas, remplissez d'abord ; jamais à la bouche. Exemple : aspiration 3
        [well] Puits : baissez-le de 1 m, chronométrez. l/h = 47000 x largeur x largeur (m) / minutes. Exemple : puits 2000
        [garden] Jardin : longueur x largeur en mètres. Exemple : jardin 50x30
        [crop] Culture : chacune boit plus ou moins. Exemple : culture tomate
        [soil] Sol mouillé : s'effrite : sable ; tient en boule : limon ; se roule en ficelle : argile. Exemple : sol argile
        [month] Mois : celui qui vous intéresse ; sinon le plus sec. Exemple : mois septembre
        [watering] Arrosage : rigole, tuyau, goutte à goutte, asperseur. Le goutte à goutte prend le moins d'eau. Exemple : goutte à goutte
        [wire] Câble : long et fin, il perd du courant. Prenez-le court et gros, avec un disjoncteur DC. Exemple : câble 10
        [place] Lieu : votre village ou le plus proche connu, pour le soleil et la pluie. Exemple : lieu Kito
    }
bore-best = Tuyau { $metres } m : prenez { $bore } mm intérieur. À midi il ne mange que { $loss } m de hauteur ; un plus étroit en mange bien plus.
    .tiny = Tuyau { $metres } m : { $bore } mm perd { $loss } m à midi, plus étroit bien plus.
bore-told = Tuyau { $metres } m de { $bore } mm : à midi il mange { $loss } m de hauteur. Au-delà de 1 m, prenez plus large.
    .tiny = { $bore } mm perd { $loss } m à midi ; plus de 1 m : plus large.

# Placing and joining the set, one step a message.
setup = { $step ->
       *[mud] 1/8 Pendez la pompe par une corde, jamais par son câble, hors de la vase, dans un seau percé de petits trous avec un filet autour.
        [float] 2/8 Pendez le seau sous un flotteur (bidon propre et fermé, jamais un bidon de poison), une 2e corde à un piquet. L'eau monte ? Sortez-le.
        [joints] 3/8 Le mieux : un câble d'une pièce, de la pompe au poteau. Branchements et interrupteur en boîte, au-dessus des crues, câble entrant par le bas.
        [cover] 4/8 Panneaux face au sol ou sous un tissu épais et sombre. Côte à côte : reliez + à + et - à - ; l'un après l'autre : + à -. La pompe en dernier.
        [hose] 5/8 Tuyau sans pli, toujours en montée, un collier à chaque bout, attaché à un piquet : plein d'eau, il est lourd et s'arrache.
        [first_start] 6/8 Vérifiez + et -. Personne dans l'eau. Pompe sous l'eau, secouez-la pour chasser l'air, mettez en marche. Peu d'eau après 1 min : coupez, revoyez + et -.
        [tie_down] 7/8 Attachez chariot et panneaux à des piquets des deux côtés. Orage : coupez, panneaux à plat, attachés, partez. Pas d'ombre, même d'une feuille.
        [home] 8/8 Le soir : coupez, débranchez, sortez la pompe par sa corde, rincez-la, rentrez pompe et panneaux. Laissée à l'eau, elle est volée ou ensablée.
    }
    .tiny = { $step ->
       *[mud] 1/8 Pendez la pompe par une corde, jamais par son câble, hors de la vase, en seau percé dans un filet.
        [float] 2/8 Seau sous un flotteur (bidon fermé, pas de poison), 2e corde à un piquet. L'eau monte ? Sortez-le.
        [joints] 3/8 Câble d'une pièce jusqu'au poteau. Branchements en boîte au-dessus des crues, câble par le bas.
        [cover] 4/8 Panneaux sous tissu épais. Côte à côte : + à +, - à - ; l'un après l'autre : + à -. Pompe à la fin.
        [hose] 5/8 Tuyau sans pli, toujours en montée, colliers aux deux bouts, attaché : plein, il est lourd.
        [first_start] 6/8 Vérifiez + et -. Personne dans l'eau. Pompe noyée, sans air ; marche. Peu d'eau ? Coupez, revoyez.
        [tie_down] 7/8 Piquets des deux côtés. Orage : coupez, panneaux à plat, attachés, partez. Pas d'ombre de feuille.
        [home] 8/8 Le soir : coupez, débranchez, sortez la pompe par sa corde, rincez, rentrez tout : vol et vase la nuit.
    }
# What to clean, look at and replace.
care = { $step ->
       *[week] 1/4 Chaque semaine, pompe coupée : lavez filtre et seau ; essuyez les panneaux, eau et chiffon doux, avant la chaleur.
        [month] 2/4 Chaque mois, après la marche : coupez, puis touchez prise et branchements. Chaud ou verdi : coupez-le et refaites-le à neuf. Serrez les colliers.
        [season] 3/4 Chaque saison : essayez disjoncteur, corde, flotteur ; chronométrez 5 seaux : essai 75 l 40 s 3 m
        [replace] 4/4 Moins d'eau ? D'abord filtre, fuites, panneaux, branchements. N'ouvrez pas une pompe scellée : prenez-en une neuve. Charbons s'il y a leurs bouchons.
    }
    .tiny = { $step ->
       *[week] 1/4 Chaque semaine, pompe coupée : lavez filtre et seau ; panneaux : eau et chiffon doux, tôt le matin.
        [month] 2/4 Chaque mois : pompe coupée, touchez prise et branchements. Chaud ou verdi : à couper et refaire.
        [season] 3/4 Chaque saison : essayez disjoncteur, corde, flotteur ; chronométrez 5 seaux : essai 75 l 40 s 3 m
        [replace] 4/4 Moins d'eau ? Filtre, fuites, panneaux, branchements. N'ouvrez pas une pompe scellée : changez-la.
    }
help = { $step ->
       *[begin] Envoyez : hauteur 3 tuyau 30 panneau 3x100 jardin 900 (m, m, W, m2). Simple guide : les règles locales et l'électricien agréé passent d'abord.
        [words] Mots : suite, prix, changer, soleil, quand, essai, installer, entretien, rappel, nouveau, personne, stop, reprendre, oublier.
        [fields] Un mot seul vous explique : hauteur, eau basse, tuyau, diamètre, panneau, pose, pompe, aspiration, puits, jardin, culture, sol, mois, arrosage, câble, lieu.
    }

# Menus of a screen; a digit stands before each line.
menu = { $menu ->
       *[home] Pompe solaire et jardin
        [other] Autre chose
        [answered] Votre réponse
        [languages] Langue
        [stopped] Vous ne recevez plus de messages.
    }
choice = { $item ->
       *[answer] Assez d'eau pour mon jardin ?
        [new] Nouveau jardin
        [setup] Installer
        [care] Entretenir
        [other] Autre chose
        [language] Langue
        [person] Parler à quelqu'un
        [stop] Arrêter les messages
        [start] Recevoir les messages
        [yes] Oui
        [no] Non
        [more] Suite
        [change] Que changer ?
        [cost] Le prix
        [back] Retour
    }
    .tiny = { $item ->
       *[answer] Mon jardin
        [new] Nouveau
        [setup] Installer
        [care] Entretenir
        [other] Autre chose
        [language] Langue
        [person] Une personne
        [stop] Arrêter
        [start] Reprendre
        [yes] Oui
        [no] Non
        [more] Suite
        [change] Changer
        [cost] Prix
        [back] Retour
    }
no-such-choice = Tapez un numéro de la liste.
also-by-sms = Envoyé aussi par SMS.
busy = Trop de demandes en ce moment. Recomposez dans une minute, s'il vous plaît.
stopped = Vous ne recevrez plus de messages. Envoyez REPRENDRE pour revenir.
started = Vous revoilà. Envoyez : hauteur 3 tuyau 30 panneau 3x100 jardin 900
handed-over = Une personne du service va lire ceci et vous répondre.
handed-back = Vous écrivez de nouveau au programme. Envoyez { $word } si vous avez besoin de nous.
forget-sure = Effacer tout ce que je garde sur vous ? Envoyez oui pour effacer.
kept = Rien n'est effacé.
forgotten = Tout est effacé. Pour recommencer, envoyez : hauteur 3 tuyau 30 panneau 3x100 jardin 900

poor-day = { $hours } h d'eau par jour ; un mauvais jour { $water } m3.
    .tiny = { $hours } h/jour ; mauvais jour { $water } m3.
noon = À midi en plein soleil : { $flow } l/min, { $loss } m perdus dans le tuyau de { $bore } mm.
    .tiny = Midi { $flow } l/min.
wire = Câble { $metres } m : { $size } mm2, disjoncteur DC { $breaker } A (un AC peut ne pas couper l'arc ; il ne saute pas si la pompe se bloque).
    .short = Câble { $size } mm2, disjoncteur DC { $breaker } A ; ne saute pas si pompe bloquée.
    .tiny = { $size } mm2, disjoncteur DC { $breaker } A ; sans garde moteur.
wire-no-breaker = Câble { $metres } m : { $size } mm2. Trop de courant pour un seul disjoncteur : partagez en deux.
    .tiny = Câble { $size } mm2 ; trop de courant pour un disjoncteur : partagez.
string-fuse = Un fusible de { $fuse } A par chaîne de panneaux.
    .short = Un fusible de { $fuse } A par chaîne.
    .tiny = Fusible { $fuse } A/chaîne.

# Un essai du seau : $percent de l'eau attendue, $flow en litres par minute.
test-judged = { $health ->
       *[healthy] Essai : { $flow } l/min, { $percent } % de l'eau attendue : la pompe va bien.
        [check] Essai : { $flow } l/min, seulement { $percent } % de l'eau attendue. Nettoyez filtre et panneaux, tournez-les bien, bouchez les fuites, puis nouvel essai.
        [fault] Essai : { $flow } l/min, seulement { $percent } % de l'eau attendue : une panne. Regardez turbine, branchements, fils, charbons s'il y en a ; la hauteur est-elle juste ?
    }
    .tiny = { $health ->
       *[healthy] Essai { $percent } % : pompe en forme.
        [check] Essai { $percent } % : filtre, fuites, panneaux, puis nouvel essai.
        [fault] Essai { $percent } % : panne. Charbons, turbine, branchements, fils, hauteur ?
    }
test-not-used = Essai gardé, pas utilisé : { $flow } l/min, c'est { $percent } % de ce qu'elle devrait donner. Mesurez encore litres, secondes et mètres.
    .tiny = Essai pas utilisé ({ $percent } %) : mesurez encore litres, secondes, mètres.
test-cloudy = Sous les nuages je ne peux pas juger. Essayez en plein soleil vers midi.
test-low-sun = Le soleil était trop bas. Essayez vers midi, ou envoyez aussi l'heure (essai 75 l 40 s 3 m 11:30).
test-nothing-expected = Selon l'étiquette la pompe ne donne rien à { $outlet } m à cette heure. { $outlet } m, est-ce juste ? Renvoyez l'essai.
test-taken = Compris : { $time }, ciel { $sky }, sortie à { $outlet } m de haut.
    .tiny = { $time }, { $sky }, { $outlet } m.
test-how = { $step ->
       *[bucket] Plein soleil vers midi, tout le tuyau posé : chronométrez 5 seaux ou un fût, 30 s ou plus. Litres, secondes, mètres, heure : essai 75 l 40 s 3 m 11:30
        [heights] Deux essais, le bout ATTACHÉ à 2 m puis à 4 m au-dessus de l'eau, tuyau entier : je connais alors votre pompe. Ciel voilé ou nuageux ? Dites-le.
    }
    .tiny = { $step ->
       *[bucket] Plein soleil vers midi, tuyau entier : chronométrez 5 seaux, 30 s ou plus. Envoyez : essai 75 l 40 s 3 m 11:30
        [heights] Deux essais, bout ATTACHÉ à 2 m puis 4 m de haut : je connais votre pompe. Voilé, nuageux ? Dites-le.
    }
own-numbers = { $tests ->
        [one] D'après votre essai.
       *[other] D'après vos { $tests } essais.
    }
    .tiny = { $tests ->
        [one] Votre essai.
       *[other] Vos { $tests } essais.
    }
suction-too-high = Pompe trop haute au-dessus de l'eau : ici elle aspire à { $metres } m au plus. Descendez-la.
    .tiny = Pompe trop haute : { $metres } m au plus ici.

# Les trois poses du jour ; $percent est la lumière gagnée sur la pose à plat.
stances = { $month } : jusqu'à { $turn } { $first } ; puis { $second } ; dès { $again } { $third }. { $percent } % de lumière en plus qu'à plat.
    .tiny = { $month } : jusqu'à { $turn } { $first }, puis { $second }, dès { $again } { $third } : +{ $percent } %.
facing = { $point ->
       *[north] face au nord, inclinés { $tilt } degrés
        [north_east] face au nord-est, inclinés { $tilt } degrés
        [east] face à l'est, inclinés { $tilt } degrés
        [south_east] face au sud-est, inclinés { $tilt } degrés
        [south] face au sud, inclinés { $tilt } degrés
        [south_west] face au sud-ouest, inclinés { $tilt } degrés
        [west] face à l'ouest, inclinés { $tilt } degrés
        [north_west] face au nord-ouest, inclinés { $tilt } degrés
        [up] à plat
    }
    .short = { $point ->
       *[north] nord { $tilt } degrés
        [north_east] nord-est { $tilt } degrés
        [east] est { $tilt } degrés
        [south_east] sud-est { $tilt } degrés
        [south] sud { $tilt } degrés
        [south_west] sud-ouest { $tilt } degrés
        [west] ouest { $tilt } degrés
        [north_west] nord-ouest { $tilt } degrés
        [up] à plat
    }
    .tiny = { $point ->
       *[north] N { $tilt }
        [north_east] NE { $tilt }
        [east] E { $tilt }
        [south_east] SE { $tilt }
        [south] S { $tilt }
        [south_west] SO { $tilt }
        [west] O { $tilt }
        [north_west] NO { $tilt }
        [up] à plat
    }
good-hours = Bon débit par beau temps en { $month } : de { $from } à { $to }.
    .tiny = Bon débit { $month } { $from }-{ $to }.
interval = { $often ->
       *[days] Arrosez { $crop } sur { $soil } tous les { $days } jours, { $litres } l par m2.
        [daily] Arrosez { $crop } sur { $soil } chaque jour, { $litres } l par m2.
    }
    .tiny = { $often ->
       *[days] Tous les { $days } jours { $litres } l/m2.
        [daily] Chaque jour { $litres } l/m2.
    }
interval-soil-taken = { $often ->
       *[days] Arrosez { $crop } tous les { $days } jours, { $litres } l par m2 (sol { $soil } supposé ; envoyez le vôtre : sol argile).
        [daily] Arrosez { $crop } chaque jour, { $litres } l par m2 (sol { $soil } supposé ; envoyez le vôtre : sol argile).
    }
    .tiny = { $often ->
       *[days] Tous les { $days } jours { $litres } l/m2 ({ $soil }).
        [daily] Chaque jour { $litres } l/m2 ({ $soil }).
    }

reminders-set = Je vous rappelle : { $list }. Pour finir : rappel non
    .tiny = Rappels : { $list }. Fin : rappel non
reminder = { $kind ->
       *[brushes] regarder les charbons, { $date }
        [low_water] eau basse, { $date }
    }
    .tiny = { $kind ->
       *[brushes] charbons { $date }
        [low_water] eau basse { $date }
    }
date = { $day } { $month } { $year }
reminders-off = Je ne vous le rappellerai plus.
no-brushes = Cette pompe est électronique : elle n'a pas de charbons.
brushes-due = Votre pompe a tourné environ { $hours } heures. A-t-elle des bouchons à charbons ? Regardez-les ; s'ils sont trop courts, changez-les. Puis envoyez : rappel pompe. Pour finir : rappel non
    .short = Votre pompe a tourné { $hours } h. Regardez les charbons ; trop courts, changez-les. Puis : rappel pompe. Pour finir : rappel non
    .tiny = Pompe : { $hours } h. Regardez les charbons, puis : rappel pompe
low-water-comes = L'eau est au plus bas en { $month }. Mesurez alors la hauteur et envoyez : eau basse 4. Descendez la pompe avec l'eau. Pour finir : rappel non
    .tiny = Eau au plus bas en { $month } : mesurez, envoyez eau basse 4

# $month: m1 to m12.
month = { $month ->
       *[m1] janvier
        [m2] février
        [m3] mars
        [m4] avril
        [m5] mai
        [m6] juin
        [m7] juillet
        [m8] août
        [m9] septembre
        [m10] octobre
        [m11] novembre
        [m12] décembre
    }
    .tiny = { $month ->
       *[m1] janv
        [m2] fév
        [m3] mars
        [m4] avril
        [m5] mai
        [m6] juin
        [m7] juil
        [m8] août
        [m9] sept
        [m10] oct
        [m11] nov
        [m12] déc
    }

# Ce qui rendrait l'installation suffisante; $place de 1 à 3.
fix = { $place } : { $what } : { $cost } de plus, arrose { $area } m2.
    .tiny = { $place } : { $what }, +{ $cost }.
fix-saves = { $place } : { $what } : économise { $cost }, arrose { $area } m2.
    .tiny = { $place } : { $what }, économise { $cost }.
fix-free = { $place } : { $what } : sans frais, arrose { $area } m2.
    .tiny = { $place } : { $what }, gratuit.
fix-no-price = { $place } : { $what } : arrose { $area } m2.
    .tiny = { $place } : { $what }.
change-bore = tuyau { $bore } mm
change-panels = { $count ->
        [one] { $count } panneau
       *[other] { $count } panneaux
    }
change-turned = tourner les panneaux vers le soleil
change-sets = { $count ->
        [one] { $count } pompe avec panneaux et tuyau
       *[other] { $count } pompes, chacune avec panneaux et tuyau
    }
change-wire = câble { $size } mm2
change-watering = arrosage { $watering }
change-garden = jardin { $garden } m2
nothing-to-change = Votre installation suffit : rien à changer.
no-change-helps = Aucun petit changement ne suffit : envoyez PERSONNE pour parler à quelqu'un.
cost = Tout le matériel { $first } ; usure par an { $yearly }.
    .tiny = Matériel { $first }, par an { $yearly }.
cost-first = Tout le matériel { $first }.
cost-unknown = Certains prix ne sont pas connus ici.
petrol = Essence : pompe { $first }, par an { $yearly }.
    .tiny = Essence { $first }, par an { $yearly }.
payback = { $days ->
        [one] Remboursé en { $days } jour d'arrosage.
       *[other] Remboursé en { $days } jours d'arrosage.
    }
    .tiny = { $days ->
        [one] Remboursé en { $days } jour.
       *[other] Remboursé en { $days } jours.
    }
payback-at-once = Moins cher que l'essence dès le premier jour.
    .tiny = Moins cher que l'essence.
no-price = Pas de prix pour : { $parts }.
proposal = Achetez { $panels } W de panneaux, pompe { $volts }V { $flow } l/h, tuyau { $bore } mm, câble { $wire } mm2, { $breaker } : { $cost }.
    .short = Achetez { $panels } W, pompe { $volts }V { $flow } l/h, tuyau { $bore }, { $breaker } : { $cost }.
    .tiny = { $panels } W, pompe { $volts }V { $flow } l/h, tuyau { $bore }, { $breaker } : { $cost }.
proposal-no-price = Achetez { $panels } W de panneaux, pompe { $volts }V { $flow } l/h, tuyau { $bore } mm, câble { $wire } mm2, { $breaker }.
    .tiny = Achetez { $panels } W, pompe { $volts }V { $flow } l/h, tuyau { $bore }, { $breaker }.
# The $breaker of a proposal: its amperes, or that none is made so large.
proposal-breaker = disjoncteur DC { $breaker } A
proposal-no-breaker = aucun disjoncteur DC assez fort : demandez à un électricien
    .tiny = aucun disjoncteur assez fort
each-pump = Chaque pompe a son tuyau, son câble et son disjoncteur.
    .tiny = Chacune : tuyau, câble, disjoncteur.
no-set = Aucune installation n'arrose autant ici. Envoyez un jardin plus petit, ou PERSONNE pour parler à quelqu'un.

refused-spot = Degrés : -60 à 60 (nord) et -180 à 180 (est) ; mètres : -430 à 6000. Exemple : lieu -8,2 35,1 1200m
climate-town = Climat de { $town }.
climate-spot = Climat de { $town }, à { $distance } km, ramené à { $altitude } m.
climate-spot-level = Climat de { $town }, à { $distance } km ; altitude supposée { $altitude } m, envoyez la vôtre si elle diffère.
    .short = Climat de { $town }, à { $distance } km ; altitude supposée { $altitude } m.
    .tiny = Climat de { $town }, à { $distance } km.
climate-rough = Chiffres INCERTAINS : le climat connu le plus proche est { $town }, { $distance } km, altitude { $altitude } m. Une personne vérifiera.
    .short = INCERTAIN : climat de { $town }, { $distance } km. Une personne vérifiera.
    .tiny = INCERTAIN : climat à { $distance } km, on vérifiera.

# L'installation telle qu'elle est et avec un changement.
compared = Maintenant { $now }. Avec { $change } : { $then }. Pour le prendre : { -command-yes }.
    .tiny = { $change } : { $then }. Le prendre ? { -command-yes }
outcome = { $verdict ->
       *[enough] SUFFISANT, { $water } m3/jour, { $area } m2
        [tight] TOUT JUSTE, { $water } m3/jour, { $area } m2
        [short] INSUFFISANT, { $water } m3/jour, { $area } m2
        [unfit] NE VA PAS, trop de tension
        [open] { $water } m3/jour, { $area } m2
    }
outcome-no-need = { $water } m3/jour, sans arrosage
sheet-kept = Rien n'est changé.
still-handed-over = Quelqu'un a déjà vos messages. Pour voir ce que je sais faire : { -command-help }.

# Two of the folder's own examples, in their letters.
which-topic = Je n'ai pas compris. Demandez-vous 1 "{ $first }" ou 2 "{ $second }"? Envoyez 1 ou 2.
    .tiny = Pas compris. 1 "{ $first }" ou 2 "{ $second }"? Envoyez 1 ou 2.
