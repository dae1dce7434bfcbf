module wheelmold

go 1.26
